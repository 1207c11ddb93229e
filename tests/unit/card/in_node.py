"""Runs the phone's own modules outside a browser: one question in, one answer out."""

import json
import subprocess
from pathlib import Path
from typing import Any

from playwright._impl._driver import compute_driver_executable

FIELD = Path(__file__).parents[3] / "src/ropewright/web/static/field"

_READ = """
let text = "";
for await (const part of process.stdin) text += part;
const given = JSON.parse(text, (key, value) => value);
const show = (key, value) => (typeof value === "bigint" ? value.toString() : value);
"""


def run_module(script: str, given: object, *, field: Path = FIELD) -> Any:
    """What a module script makes of plain data; it has ``given`` and must set ``answer``."""
    node = compute_driver_executable()[0]  # the one that came with playwright
    imports = script.replace("@field/", field.as_uri() + "/")
    whole = f"{imports}\n{_READ}\nconst answer = main(given);\n"
    whole += "process.stdout.write(JSON.stringify(answer, show));\n"
    done = subprocess.run(
        [node, "--input-type=module", "-e", whole],
        input=json.dumps(given), capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout)
