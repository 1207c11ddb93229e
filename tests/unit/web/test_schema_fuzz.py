"""The API against its own description: whatever fits the description, and what almost does.

Kind of check: other program (schemathesis) against the description that the server publishes.
"""

import uuid
from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from schemathesis import Case as AnyCase
from schemathesis.checks import not_a_server_error
from schemathesis.core.result import Ok
from schemathesis.generation import GenerationMode
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from ropewright.web.gate import KINDS
from tests.unit.web.conftest import Served

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
DESCRIBED = "/api/openapi.json"
READ = ("/api/v1/me", "/api/v1/ropes")
NAMED = (
    "/api/v1/ropes/{rope_id}/card",
    "/api/v1/ropes/{rope_id}/report.json",
    "/api/v1/photos/{sha256}",
)
SENT = ("/api/v1/entries", "/api/v1/photos")
ROPE = "KQ-1 hoist"
EXAMPLES = 40

Headers = dict[str, str]
Case = AnyCase[Any]


@pytest.fixture(scope="module")
def program(shared: Served) -> Headers:
    """What a program of the inspector sends along."""
    client = shared.browser("inspector")
    form = {"csrf": shared.csrf(client), "purpose": "api", "name": "a program"}
    page = client.post("/people/tokens/new", data=form).text
    return {"authorization": "Bearer " + page.split('class="hash">')[1].split("<")[0]}


@pytest.fixture(scope="module")
def described(shared: Served, program: Headers) -> schemathesis.BaseSchema:
    """The API as it describes itself."""
    return schemathesis.openapi.from_asgi(DESCRIBED, shared.app, headers=dict(program))


def send(
    cases: st.SearchStrategy[Case],
    program: Headers,
    examples: int = EXAMPLES,
    change: Callable[[Case], None] = lambda _case: None,
) -> Counter[int]:
    """Send so many cases and check every answer; gives how often each status came."""
    seen: Counter[int] = Counter()

    @seed(4309)
    @settings(
        max_examples=examples, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(case=cases)
    def answered(case: Case) -> None:
        change(case)
        answer = case.call(headers=dict(program))
        case.validate_response(answer, checks=CHECKS)
        seen[answer.status_code] += 1

    answered()
    return seen


def name_it(case: Case) -> None:
    """Ask for the rope that is there."""
    case.path_parameters = {"rope_id": ROPE}


def test_every_operation_is_tried(described: schemathesis.BaseSchema) -> None:
    found = [one.ok() for one in described.get_all_operations() if isinstance(one, Ok)]
    assert sorted((one.method.upper(), one.path) for one in found) == sorted(
        [("GET", path) for path in READ + NAMED] + [("POST", path) for path in SENT]
    )


@pytest.mark.parametrize("path", READ)
def test_what_is_read(described: schemathesis.BaseSchema, program: Headers, path: str) -> None:
    assert set(send(described[path]["GET"].as_strategy(), program, 2)) == {200}


@pytest.mark.parametrize("path", NAMED)
def test_any_name(described: schemathesis.BaseSchema, program: Headers, path: str) -> None:
    seen = send(described[path]["GET"].as_strategy(), program)
    assert set(seen) <= {200, 404, 422}, seen  # 200: it read a name elsewhere


@pytest.mark.parametrize("path", NAMED[:2])
def test_a_rope_that_is_there(
    described: schemathesis.BaseSchema, program: Headers, path: str
) -> None:
    assert set(send(described[path]["GET"].as_strategy(), program, 2, name_it)) == {200}


@pytest.mark.parametrize("path", SENT)
@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE])
def test_what_is_sent(
    described: schemathesis.BaseSchema, program: Headers, path: str, mode: GenerationMode
) -> None:
    seen = send(described[path]["POST"].as_strategy(generation_mode=mode), program)
    assert set(seen) <= {200, 400, 409, 422}, seen


def aimed(case: Case, kind: str) -> list[dict[str, Any]]:
    """Give the entries a right envelope for a rope that is there."""
    body: Any = case.body
    body["device"] = {"id": "a device", "sent_at": "2026-11-10T09:00:00+00:00"}
    for one in body["entries"]:
        one |= {"id": str(uuid.uuid4()), "kind": kind, "rope_id": ROPE}
        one |= {"happened_at": "2026-11-10T08:00:00+00:00", "typed_at": None, "role": None}
        one |= {"happened_on": None, "person_id": None}
    entries: list[dict[str, Any]] = body["entries"]
    return entries


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_of_entry_with_any_content(
    described: schemathesis.BaseSchema, program: Headers, kind: str
) -> None:
    """The envelope is right, what is in it is anything at all: each entry gets its answer."""
    cases = described["/api/v1/entries"]["POST"].as_strategy()
    seen = send(cases, program, 5, lambda case: void(aimed(case, kind)))
    assert set(seen) == {200}, seen


def void(_given: object) -> None:
    """Nothing."""


ANYTHING = st.one_of(
    st.none(), st.booleans(), st.integers(), st.text(max_size=8), st.just([]), st.just({}),
    st.sampled_from(["-1", "0", "1e999", "nan", "0001-01-01", "9999-12-31", "-0.0", "1/0", "\x00"]),
    st.lists(st.integers(-3, 3), max_size=2), st.dictionaries(st.text(max_size=3), st.none()),
)  # fmt: skip


def with_other(value: Any, at: int, other: object) -> Any:
    """The content with its value number ``at`` exchanged."""
    left = at

    def walk(one: Any) -> Any:
        nonlocal left
        left -= 1
        if left == -1:
            return other
        if isinstance(one, dict):
            return {key: walk(part) for key, part in one.items()}
        return [walk(part) for part in one] if isinstance(one, list) else one

    return walk(value)


def test_real_entries_with_one_value_exchanged(
    described: schemathesis.BaseSchema, program: Headers, shared: Served
) -> None:
    """What almost is an entry: refused or taken in words, and the rope can still be judged."""
    real = {line.kind: line for line in shared.tools.book.lines(ROPE) if line.kind in KINDS}
    assert len(real) > 3, sorted(real)
    changes = st.tuples(st.sampled_from(sorted(real)), st.integers(1, 25), ANYTHING)
    operation = described["/api/v1/entries"]["POST"]
    states: Counter[str] = Counter()

    @seed(4309)
    @settings(
        max_examples=40, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(changed=st.lists(changes, min_size=3, max_size=6))
    def answered(changed: list[tuple[str, int, object]]) -> None:
        case = operation.Case(body={"device": {}, "entries": [{} for _ in changed]})
        for one, (kind, at, other) in zip(aimed(case, ""), changed, strict=True):
            one |= {"kind": kind, "payload": with_other(dict(real[kind].payload), at, other)}
        answer = case.call(headers=dict(program))
        case.validate_response(answer, checks=CHECKS)
        assert answer.status_code == 200
        results = answer.json()["results"]
        assert all(one["reason"] for one in results if one["state"] == "refused")
        states.update(one["state"] for one in results)

    answered()
    assert states["refused"] > 50, states
    card = described[NAMED[0]]["GET"].as_strategy()
    assert set(send(card, program, 1, name_it)) == {200}
