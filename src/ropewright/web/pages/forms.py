"""Forms of the rope's page: hold, event, release, note of a verdict, correction."""

import json
import uuid
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from ropewright.desk.open_book import Taken
from ropewright.errors import InputError
from ropewright.web.addresses import from_address, rope_path
from ropewright.web.corrected import corrector_role
from ropewright.web.office import Here, Visit
from ropewright.web.pages.rope import show_entry, show_rope
from ropewright.web.saying import day_in, me, say, words_in
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


def _answer(visit: Visit, rope_id: str, opened: str, taken: Taken, said: str) -> Response:
    if taken.state == "refused":
        return show_rope(visit, rope_id, 400, problem=taken.reason, opened=opened)
    return visit.back_to(rope_path(rope_id), said)


@router.post("/ropes/{rope_id}/hold")
def hold(visit: Here, rope_id: str) -> Response:
    """Put a rope on hold."""
    name, today = from_address(rope_id), visit.office.tools.today()
    try:
        payload: dict[str, Any] = {
            "hold_id": f"hold-{uuid.uuid4().hex[:8]}", "on": today.isoformat(),
            "reason": words_in(visit, "reason", visit.t("hold.asked")),
        }  # fmt: skip
    except InputError as error:
        return show_rope(visit, name, 400, problem=said_by(error), opened="hold")
    taken = say(visit, "hold", name, payload, today)
    return _answer(visit, name, "hold", taken, visit.t("hold.said"))


@router.post("/ropes/{rope_id}/event")
def event(visit: Here, rope_id: str) -> Response:
    """Report something that may have hurt the rope."""
    name = from_address(rope_id)
    try:
        on = day_in(visit, "on")
    except InputError as error:
        return show_rope(visit, name, 400, problem=said_by(error), opened="event")
    payload = {
        "event_id": f"event-{uuid.uuid4().hex[:8]}", "kind": visit.form.get("kind", ""),
        "on": on.isoformat(), "remark": visit.form.get("remark", "").strip(),
    }  # fmt: skip
    taken = say(visit, "event", name, payload, on)
    return _answer(visit, name, "event", taken, visit.t("event.said"))


@router.post("/ropes/{rope_id}/limit")
def limit(visit: Here, rope_id: str) -> Response:
    """A limit switch was bridged by an authorised person, or works again and was tried."""
    name, today = from_address(rope_id), visit.office.tools.today()
    overrides = visit.office.tools.book.stand(name).record.get("overrides", {})
    reset = visit.form.get("reset", "")
    try:
        if not reset:
            kind, said = "limit override", visit.t("limit.said")
            payload: dict[str, Any] = {
                "override_id": f"limit-{uuid.uuid4().hex[:8]}", "by": me(visit),
                "which": words_in(visit, "which", visit.t("limit.asked.which")),
                "reason": words_in(visit, "reason", visit.t("limit.asked.why")),
            }  # fmt: skip
        elif reset not in overrides:
            raise InputError(field="reset", expected=visit.t("limit.asked.reset"), given=reset)
        elif visit.form.get("tried") != "yes":
            raise InputError(
                field="tried", expected=visit.t("limit.asked.tried"), given=visit.t("no")
            )
        else:
            kind, said = "limit reset", visit.t("limit.works.said")
            payload = {
                "override_id": reset, "tried": True,
                "remark": visit.form.get("remark", "").strip(),
            }  # fmt: skip
    except InputError as error:
        return show_rope(visit, name, 400, problem=said_by(error), opened="limit")
    return _answer(visit, name, "limit", say(visit, kind, name, payload, today), said)


@router.post("/ropes/{rope_id}/release")
def release(visit: Here, rope_id: str) -> Response:
    """Release a hold by name, on named evidence."""
    name, today = from_address(rope_id), visit.office.tools.today()
    holds = visit.office.tools.book.stand(name).record.get("holds", {})
    try:
        of = visit.form.get("of", "")
        if of not in holds:
            raise InputError(field="of", expected=visit.t("release.asked.which"), given=of)
        if of.startswith("fitting "):
            _check_fitting(visit, name)
        evidence = words_in(visit, "evidence", visit.t("release.asked.evidence"))
    except InputError as error:
        return show_rope(visit, name, 400, problem=said_by(error), opened="release")
    payload = {
        "of": of, "release": {"by": me(visit), "on": today.isoformat(), "evidence": evidence},
    }  # fmt: skip
    taken = say(visit, "release", name, payload, today)
    return _answer(visit, name, "release", taken, visit.t("release.said"))


def _check_fitting(visit: Visit, rope_id: str) -> None:
    """A new rope is released only when every step of its fitting is done and agrees."""
    missing = visit.office.tools.book.fitting(rope_id).missing
    if missing:
        raise InputError(
            visit.t("release.fitting", missing="; ".join(missing[:5])), field="release",
            expected=visit.t("release.asked.fitting"),
        )  # fmt: skip


@router.post("/ropes/{rope_id}/accept")
def accept(visit: Here, rope_id: str) -> Response:
    """Note that a person has read the verdict."""
    tools, name = visit.office.tools, from_address(rope_id)
    whole = visit.office.judged.overview(name)
    verdict = whole.assessment.verdict
    payload = {
        "level": verdict.level, "as_of": tools.today().isoformat(), "sentence": verdict.sentence,
        "by": me(visit), "software": tools.software,
        "rules": {one.rule_set: one.rules_hash for one in whole.assessment.rule_sets},
        "remark": visit.form.get("remark", "").strip(),
    }  # fmt: skip
    taken = say(visit, "verdict accepted", name, payload, tools.today())
    return _answer(visit, name, "accept", taken, visit.t("accept.said"))


@router.post("/ropes/{rope_id}/correct/{entry_id}")
def correct(visit: Here, rope_id: str, entry_id: str) -> Response:
    """Put an entry right by another one."""
    tools, name = visit.office.tools, from_address(rope_id)
    line = tools.book.line(entry_id)
    try:
        reason = words_in(visit, "reason", visit.t("correct.asked.why"))
        payload: dict[str, Any] = {"corrects": entry_id, "reason": reason}
        if visit.form.get("how") == "change":
            payload["payload"] = _content(visit, visit.form.get("payload", ""))
        role = corrector_role(tools.book, visit.person, payload, visit.role)
    except InputError as error:
        return show_entry(visit, name, entry_id, 400, problem=said_by(error))
    on = None if line is None else line.happened_on
    visit.form["role"] = role
    taken = say(visit, "correction", name, payload, on)
    if taken.state == "refused":
        return show_entry(visit, name, entry_id, 400, problem=taken.reason)
    return visit.back_to(rope_path(name, "entries", entry_id), visit.t("correct.said"))


def _content(visit: Visit, text: str) -> dict[str, Any]:
    try:
        data = json.loads(text)
    except ValueError as error:
        raise InputError(visit.t("correct.no-json", why=error), field="content") from None
    if not isinstance(data, dict):
        raise InputError(field="content", expected=visit.t("correct.asked.content"), given=text)
    return data
