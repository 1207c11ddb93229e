"""Rules: the catalogue, one rule set, what an edition change alters, choices for one rope."""

import re
from collections.abc import Sequence
from typing import Any, Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.assumed import assumption_register
from ropewright.desk.judging import choose_rule_sets, judge
from ropewright.desk.rule_changes import rule_changes
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.rules import OWN_CHECKS, Clause, RuleSet, limit_words, provenance_words
from ropewright.rules.limits import table_words
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.corrected import contents_of
from ropewright.web.office import Here, Visit
from ropewright.web.saying import me, say, words_in
from ropewright.web.views.rope import SideBySide, side_by_side
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

_TABLE: Final = re.compile(r"\bTable [0-9]+\b")


@router.get("/rules")
def rules_page(visit: Here) -> HTMLResponse:
    """The catalogue."""
    shelf = visit.office.tools.shelf
    sets = [shelf.get(name) for name in shelf.names()]
    memory = {
        one.rule_set_id: sum(clause.provenance == "memory" for clause in one.clauses)
        for one in sets
    }
    return visit.page(
        "rules.html", sets=sets, memory=memory, own=OWN_CHECKS, register=assumption_register()
    )


@router.get("/rules/{name}")
def rule_set_page(visit: Here, name: str, against: str = "") -> HTMLResponse:
    """One rule set with every clause; with ``against``, what differs from another one."""
    shelf = visit.office.tools.shelf
    one = shelf.get(from_address(name))
    other = shelf.get(against) if against else None
    return visit.page(
        "rule_set.html", one=one, limit_words=limit_said, provenance_words=provenance_words,
        sets=[
            (each, shelf.get(each).title) for each in shelf.names() if each != one.rule_set_id
        ],
        numbers={each.clause_id: each.clause for each in (*_clauses(other), *one.clauses)},
        table_words=table_words, numbered=_numbered(one), other=other,
        changes=() if other is None else rule_changes(other, one), against=against,
    )  # fmt: skip


def limit_said(clause: Clause) -> str:
    """The limit of a clause, its table by the number that the standard gives it."""
    words = limit_words(clause)
    name, number = _table_of(clause)
    return words.replace(f"table {table_words(name)}", number) if number else words


def _table_of(clause: Clause) -> tuple[str, str]:
    """The file of a clause's table, and the number of the one printed table that it names."""
    table = getattr(clause.check, "table", None)
    numbers = _TABLE.findall(clause.clause)
    if table is None or len(numbers) != 1:
        return "", ""
    return table.name, numbers[0]


def _numbered(one: RuleSet) -> dict[str, str]:
    """Numbers of printed tables by the names of their files, where the clauses agree on one."""
    found: dict[str, set[str]] = {}
    for clause in one.clauses:
        name, number = _table_of(clause)
        if number:
            found.setdefault(name.rsplit("/", maxsplit=1)[-1], set()).add(number)
    return {name: min(numbers) for name, numbers in found.items() if len(numbers) == 1}


def _clauses(one: RuleSet | None) -> Sequence[Clause]:
    return () if one is None else one.clauses


@router.get("/ropes/{rope_id}/rules")
def rope_rules_page(visit: Here, rope_id: str) -> HTMLResponse:
    """Rules, permissions and confirmations of one rope; what another rule set would say."""
    return _rope_rules(visit, from_address(rope_id))


def _tried(visit: Visit, dossier: Dossier, name: str) -> SideBySide | None:
    """What a rule set would say of a rope, were it chosen as well."""
    tools = visit.office.tools
    if not name:
        return None
    found = judge(dossier, tools.shelf, tools.today(), software=tools.software, added=[name])
    return next((one for one in side_by_side(found) if one.rule_set == name), None)


def _rope_rules(
    visit: Visit, rope_id: str, status: int = 200, *, problem: str = ""
) -> HTMLResponse:
    tools = visit.office.tools
    dossier = tools.book.dossier(rope_id)
    sets = choose_rule_sets(dossier, tools.shelf)
    chosen = set(dossier.installation.rules)
    shelf = [tools.shelf.get(name) for name in tools.shelf.names() if name != OWN_CHECKS]
    made = {(one.rule_set, one.permission) for one in dossier.installation.permissions}
    permits = [
        (one, rule, (one.rule_set_id, rule.permission_id) in made)
        for one in sets
        for rule in one.permissions
    ]
    confirmed = {(one.rule_set, one.clause_id): one for one in dossier.installation.confirmed}
    memory = [
        (one, [(clause, confirmed.get((one.rule_set_id, clause.clause_id))) for clause in held])
        for one in sets
        if (
            held := [
                clause
                for clause in one.clauses
                if "memory" in (clause.provenance, clause.clause_provenance)
            ]
        )
    ]
    governs = [tools.shelf.get(name) for name in dossier.installation.rules]
    trying = visit.request.query_params.get("try", "")[:100]
    return visit.page(
        "rope_rules.html", status, trying=trying, tried=_tried(visit, dossier, trying),
        rope_id=rope_id, path_back=rope_path(rope_id), d=dossier,
        shelf=[one for one in shelf if not one.template], chosen=chosen, permits=permits,
        governs=governs, titles={one.rule_set_id: one.title for one in shelf},
        allowed={(one.rule_set_id, rule.permission_id): rule.title for one, rule, _ in permits},
        memory=memory, problem=problem, limit_words=limit_said, form=visit.form,
        may=visit.may("POST /ropes/{rope_id}/rules"), in_address=in_address,
    )  # fmt: skip


@router.post("/ropes/{rope_id}/rules")
def choose(visit: Here, rope_id: str) -> Response:
    """Choose the rules that govern a rope: the installation, stated anew."""
    tools, name = visit.office.tools, from_address(rope_id)
    wanted = [one for one in visit.form.get("rules", "").split("\n") if one]
    stated = contents_of(tools.book, name, "installation")
    if not stated:
        return _rope_rules(visit, name, 400, problem=visit.t("rope-rules.no-installation"))
    if not wanted:
        return _rope_rules(visit, name, 400, problem=visit.t("rope-rules.at-least-one"))
    payload: dict[str, Any] = {**stated[-1], "rules": wanted}
    taken = say(visit, "installation", name, payload, tools.today())
    return _answer(visit, name, taken.state, taken.reason, visit.t("rope-rules.governing"))


@router.post("/ropes/{rope_id}/permit")
def permit(visit: Here, rope_id: str) -> Response:
    """Record a choice that a rule permits, with name and reason."""
    tools, name = visit.office.tools, from_address(rope_id)
    rule_set, _, permission = visit.form.get("permission", "").partition("/")
    try:
        reason = words_in(visit, "reason", visit.t("rope-rules.why-used"))
        known = {one.permission_id for one in tools.shelf.get(rule_set).permissions}
        if permission not in known:
            wanted = visit.t("rope-rules.known-permission")
            raise InputError(field="permission", expected=wanted, given=permission)
    except InputError as error:
        return _rope_rules(visit, name, 400, problem=said_by(error))
    payload = {
        "rule_set": rule_set, "permission": permission, "by": me(visit),
        "on": tools.today().isoformat(), "reason": reason,
    }  # fmt: skip
    taken = say(visit, "permission", name, payload, tools.today())
    return _answer(visit, name, taken.state, taken.reason, visit.t("rope-rules.permitted"))


@router.post("/ropes/{rope_id}/confirm")
def confirm(visit: Here, rope_id: str) -> Response:
    """Record that a person held a clause against their own copy."""
    tools, name = visit.office.tools, from_address(rope_id)
    try:
        edition = words_in(visit, "edition", visit.t("rope-rules.edition-wanted"))
        clauses = {one.clause_id for one in tools.shelf.get(visit.form.get("rule_set", "")).clauses}
        if visit.form.get("clause_id") not in clauses:
            wanted = visit.t("rope-rules.known-clause")
            raise InputError(field="clause", expected=wanted, given=visit.form["clause_id"])
    except InputError as error:
        return _rope_rules(visit, name, 400, problem=said_by(error))
    payload = {
        "rule_set": visit.form["rule_set"], "clause_id": visit.form["clause_id"],
        "by": me(visit), "edition": edition, "on": tools.today().isoformat(),
        "agrees": visit.form.get("agrees") == "yes",
        "remark": visit.form.get("remark", "").strip(),
    }  # fmt: skip
    taken = say(visit, "rule confirmed", name, payload, tools.today())
    return _answer(visit, name, taken.state, taken.reason, visit.t("rope-rules.confirmed-said"))


def _answer(visit: Visit, rope_id: str, state: str, reason: str, said: str) -> Response:
    if state == "refused":
        return _rope_rules(visit, rope_id, 400, problem=reason)
    return visit.back_to(rope_path(rope_id, "rules"), said)
