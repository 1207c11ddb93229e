"""Every route is in the table, and is open to exactly the roles named there."""

import re
from typing import Any

import pytest
from fastapi.routing import APIRoute

from ropewright.logbook import KINDS as BOOK_KINDS
from ropewright.logbook import ROLES as BOOK_ROLES
from ropewright.web.caller import ROLES
from ropewright.web.catalogue import load_texts
from ropewright.web.gate import CALENDAR, EVERYONE, KINDS, PUBLIC, ROUTES, roles_for
from tests.unit.web.conftest import Served


def _routes(served: Served) -> set[str]:
    return {
        f"{method} {path}"
        for path, methods in _walk(served.app.router.routes)
        for method in methods - {"HEAD"}
    }


def _walk(routes: list[Any]) -> list[tuple[str, set[str]]]:
    found: list[tuple[str, set[str]]] = []
    for one in routes:
        if isinstance(one, APIRoute):
            found.append((one.path, set(one.methods or ())))
        elif type(one).__name__ == "_IncludedRouter":
            found += _walk(list(one.original_router.routes))
    return found


def test_every_route_stands_in_the_table_and_no_other(shared: Served) -> None:
    """By brute force: the routes the framework knows against the table."""
    assert _routes(shared) == set(ROUTES)


def test_roles_are_those_of_the_book() -> None:
    """One list of roles in the book and on the pages."""
    assert ROLES == BOOK_ROLES
    texts = load_texts()
    assert all(texts.word("role", one) != one for one in ROLES)


def test_kinds_are_those_of_the_book() -> None:
    """Every kind of a rope can be sent but the signature, and nothing of the book itself."""
    of_rope = {name for name, kind in BOOK_KINDS.items() if kind.of_rope}
    assert set(KINDS) == of_rope - {"inspection signed"}


def _address(route: str) -> tuple[str, str]:
    method, path = route.split(" ", 1)
    return method, re.sub(r"\{[^}]+\}", "nothing", path)


@pytest.mark.parametrize("role", ROLES)
def test_each_route_is_open_to_its_roles_only(role: str, shared: Served) -> None:
    """403 exactly where the table says so: every route, with every role."""
    client = shared.browser(role.replace(" ", "-"))
    wrong = []
    for route, allowed in ROUTES.items():
        if allowed in (PUBLIC, CALENDAR) or route in ("POST /logout", "GET /exchange/book.jsonl"):
            continue
        method, path = _address(route)
        # no form token: what changes something stops before it does, and says 'expired'
        answer = client.request(method, path)
        expired = "this form has expired" in answer.text
        refused = answer.status_code == 403 and not expired
        if refused != (role not in allowed):
            wrong.append((route, answer.status_code))
        if method == "POST" and not path.startswith("/api/") and role in allowed and not expired:
            wrong.append((route, "took a form without its token"))
    assert wrong == []


def test_nobody_gets_in_without_a_login(shared: Served) -> None:
    """Without a session there is a login page for people, 401 for programs: on every route."""
    client = shared.browser()
    for route, roles in ROUTES.items():
        if roles is PUBLIC:
            continue
        method, path = _address(route)
        answer = client.request(method, path)
        if method == "GET" and not path.startswith("/api/"):
            assert answer.status_code == 303, route
            assert answer.headers["location"].startswith("/login"), route
        else:
            assert answer.status_code == 401, route


def test_what_is_not_in_the_table_is_refused(shared: Served) -> None:
    """A route somebody forgot to put down is open to nobody."""
    assert roles_for("GET /forgotten") == frozenset()
    assert roles_for("GET /") == EVERYONE
