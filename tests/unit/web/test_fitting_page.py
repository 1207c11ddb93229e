"""Fitting through its page: from the order to the release by name."""

import html
import re
from dataclasses import replace
from fractions import Fraction
from typing import Any

from ropewright.demo import demo_case
from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE
from tests.unit.web.conftest import Served

ROPE = "KQ-5 hoist"
PATH = f"/ropes/{ROPE}/fitting"


def post(served: Served, client: Any, path: str, **form: str) -> Any:
    return client.post(path, data={"csrf": served.csrf(client), **form})


def take_in(served: Served) -> None:
    """The new rope's own page, from its case file."""
    client = served.browser("keeper")
    file = {"file": ("KQ-5.toml", demo_case("KQ-5").encode(), "application/toml")}
    done = client.post("/exchange/case", data={"csrf": served.csrf(client)}, files=file)
    assert done.status_code == 200


def order_for(served: Served, **fields: str) -> str:
    """An order on the old rope's page, agreed to by a second person; the form's key for it."""
    planner, keeper = served.browser("planner"), served.browser("keeper")
    assert post(served, planner, "/ropes/KQ-1 hoist/order", **fields).status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    order_id = str(line.payload["order_id"])
    form = {"order_id": order_id, "agrees": "yes"}
    assert post(served, keeper, "/ropes/KQ-1 hoist/order-check", **form).status_code == 303
    return f"KQ-1%20hoist/{order_id}"


def states(served: Served) -> dict[str, str]:
    return {one.step.key: one.state for one in served.tools.book.fitting(ROPE).steps}


def say(served: Served, client: Any, step: str, **form: str) -> Any:
    records = next(one.records for one in FITTING_STEPS if one.key == step)
    values = {f"value.{name}": example for name, example in records}
    return post(served, client, PATH, **{"step": step, "done": "yes", **values, **form})


REFERENCE = {
    "step": "reference", "tension": "empty hook", "lay": "115",
    "at1": "12 m", "one1": "18.4", "other1": "18,5", "at2": "20", "one2": "18.4 mm",
    "other2": "18.4", "at3": "30", "one3": "18.5", "other3": "18.4",
}  # fmt: skip


def test_papers_are_held_against_the_order_that_was_named(served: Served) -> None:
    """By hand: KQ-5's case file says 18 mm and 295 m; ordered were 19 mm and 280 m."""
    take_in(served)
    order = order_for(served, **{"f.diameter_mm": "19", "f.length_m": "280"})
    fitter = served.browser("rope-fitter")
    assert order in fitter.get(PATH).text
    assert post(served, fitter, PATH, step="begin", order="KQ-9/none").status_code == 400
    assert post(served, fitter, PATH, step="begin", order=order).status_code == 303
    page = html.unescape(fitter.get(PATH).text)
    lines = dict(
        re.findall(
            r'data-label="What">([^<]*)</th>.*?data-label="Agrees"[^>]*>([^<]*)<', page, re.DOTALL
        )
    )
    assert lines["Nominal diameter [mm]"] == "no"
    assert lines["Length [m]"] == "yes"  # longer than ordered may be
    assert say(served, fitter, "papers").status_code == 303
    assert states(served)["papers"] == "not right"
    assert say(served, fitter, "papers", remark="maker wrote 19 by mistake").status_code == 303
    assert states(served)["papers"] == "done"


def test_figures_stand_at_their_steps(served: Served) -> None:
    """By hand: 2 % of 228.61 kN; 10 % of 10 t on 4 falls = 2.45 kN; the larger counts."""
    take_in(served)
    page = html.unescape(served.browser("operator").get(PATH).text)
    assert "228.61 kN × 0.02 = 4.57 kN" in page
    assert "10000 kg × g ÷ 4 falls × 0.1 = 2.45 kN" in page
    assert "Spool with 4.57 kN or more" in page
    for step in FITTING_STEPS:
        assert step.title in page
        for words in step.cautions:
            assert words in page  # shown before the step is done, whoever looks
    assert "Begin to fit" not in page  # an operator looks on


def test_nothing_typed_is_lost(served: Served) -> None:
    take_in(served)
    fitter = served.browser("rope-fitter")
    post(served, fitter, PATH, step="begin")
    wrong = post(
        served, fitter, PATH, **{**REFERENCE, "other2": "thick", "instrument": "caliper 4"}
    )
    assert wrong.status_code == 400
    assert "place 2" in wrong.text
    for typed in ("12 m", "18,5", "thick", "empty hook", "115", "caliper 4"):
        assert f'value="{typed}"' in wrong.text
    half = post(served, fitter, PATH, **REFERENCE, at4="40 m")
    assert half.status_code == 400
    assert "place 4" in half.text
    not_right = say(served, fitter, "sheaves", done="no")
    assert not_right.status_code == 400
    assert '<option value="no" selected>' in not_right.text


def test_reference_and_lay_length_come_into_the_book_as_measured(served: Served) -> None:
    take_in(served)
    fitter = served.browser("rope-fitter")
    before = served.tools.book.dossier(ROPE).rope
    post(served, fitter, PATH, step="begin")
    assert post(served, fitter, PATH, **REFERENCE).status_code == 303
    dossier = served.tools.book.dossier(ROPE)
    assert dossier.rope == replace(before, lay_length_mm=Fraction(115))  # nothing else changes
    reference = dossier.installation.reference
    assert reference is not None
    assert [one.place.at_m for one in reference.readings] == [12, 20, 30]
    assert states(served)["reference"] == "done"


def test_rope_is_released_by_name_once_every_step_is_done(served: Served) -> None:
    take_in(served)
    fitter, inspector = served.browser("rope-fitter"), served.browser("inspector")
    post(served, fitter, PATH, step="begin")
    assert "Release in my name" not in inspector.get(PATH).text
    for step in FITTING_STEPS:
        if step.key == "reference":
            done = post(served, fitter, PATH, **REFERENCE)
        elif step.key != RELEASE:
            done = say(served, fitter, step.key)
        assert done.status_code == 303, step.key
    assert "Release in my name" not in fitter.get(PATH).text
    page = inspector.get(PATH).text
    hold = re.search(r'name="of" value="([^"]+)"', page)
    assert hold is not None
    form = {"of": hold[1], "evidence": "whole rope by eye and hand after running in"}
    assert post(served, fitter, f"/ropes/{ROPE}/release", **form).status_code == 403
    assert post(served, inspector, f"/ropes/{ROPE}/release", **form).status_code == 303
    assert states(served)[RELEASE] == "done"
    assert not served.tools.book.stand(ROPE).record.get("holds")
    assert "Released 10 Nov 2026 by the inspector" in inspector.get(PATH).text


def test_roles_of_each_entry_are_held(served: Served) -> None:
    """An external examiner may say steps, but does not state what a rope is."""
    take_in(served)
    examiner = served.browser("external-examiner")
    assert post(served, examiner, PATH, step="begin").status_code == 303
    refused = post(served, examiner, PATH, **REFERENCE)
    assert refused.status_code == 400
    assert "rope fitter" in refused.text
    assert post(served, served.browser("operator"), PATH, step="papers").status_code == 403
