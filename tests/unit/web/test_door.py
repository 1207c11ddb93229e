"""Logging in and out: cookies, waits, ends of sessions, tokens."""

import pytest

from ropewright.errors import InputError
from ropewright.logbook.access_tables import SESSIONS, TOKENS
from ropewright.web.door import FIRST_WAIT_S, FREE_FAILURES, RefusedLogin
from ropewright.web.hashing import Argon2Passwords, hashed
from tests.unit.web.conftest import PASSWORD, Served


def _fail(served: Served, login: str, times: int) -> list[int]:
    waits = []
    for _ in range(times):
        with pytest.raises(RefusedLogin) as refused:
            served.app.state.office.door.log_in(login, "wrong password")
        waits.append(refused.value.wait_s)
        served.clock.wait(refused.value.wait_s + 1)
    return waits


def test_cookie_of_a_session_is_closed_to_scripts_and_other_sites(served: Served) -> None:
    client = served.browser()
    answer = client.post("/login", data={"login": "inspector", "password": PASSWORD})
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    assert "secure" not in cookie  # no TLS here; with TLS see test_serving


def test_only_the_hash_of_a_session_is_kept(served: Served) -> None:
    client = served.browser("inspector")
    secret = client.cookies["ropewright_session"]
    book = served.tools.book._book  # type: ignore[attr-defined]
    with book.reader() as conn:
        kept = [row.token_hash for row in conn.execute(SESSIONS.select())]
    assert kept == [hashed(secret)]


def test_waiting_grows_with_each_wrong_password(served: Served) -> None:
    """By hand: four are free, then 15, 30, 60 seconds."""
    waits = _fail(served, "inspector", FREE_FAILURES + 3)
    assert waits == [0] * FREE_FAILURES + [FIRST_WAIT_S, 2 * FIRST_WAIT_S, 4 * FIRST_WAIT_S]


def test_right_password_waits_too(served: Served) -> None:
    door = served.app.state.office.door
    for _ in range(FREE_FAILURES + 1):
        with pytest.raises(RefusedLogin):
            door.log_in("inspector", "wrong password")
    with pytest.raises(RefusedLogin):
        door.log_in("inspector", PASSWORD)
    served.clock.wait(FIRST_WAIT_S + 1)
    assert door.log_in("inspector", PASSWORD)


def test_unknown_name_is_answered_like_a_known_one(served: Served) -> None:
    """Nothing tells a name that nobody has: same answers, same waits."""
    known, unknown = served.browser(), served.browser()
    for _ in range(FREE_FAILURES + 2):
        one = known.post("/login", data={"login": "planner", "password": "x" * 12})
        other = unknown.post("/login", data={"login": "nobody", "password": "x" * 12})
        assert one.status_code == other.status_code
        assert one.text.replace("planner", "") == other.text.replace("nobody", "")


def test_a_login_after_failures_clears_them(served: Served) -> None:
    _fail(served, "inspector", 3)
    served.browser("inspector")
    assert _fail(served, "inspector", FREE_FAILURES) == [0] * FREE_FAILURES


def test_session_ends_when_it_is_not_used(served: Served) -> None:
    client = served.browser("inspector")
    served.clock.wait(11 * 3600)
    assert client.get("/").status_code == 200
    served.clock.wait(11 * 3600)
    assert client.get("/").status_code == 200
    served.clock.wait(13 * 3600)
    assert client.get("/").status_code == 303


def test_session_ends_when_it_is_old(served: Served) -> None:
    client = served.browser("inspector")
    for _ in range(15):  # used every eleven hours: seven days are reached after 165 hours
        served.clock.wait(11 * 3600)
        assert client.get("/").status_code == 200
    served.clock.wait(11 * 3600)
    assert client.get("/").status_code == 303


def test_log_out_ends_the_session_itself(served: Served) -> None:
    client = served.browser("inspector")
    secret = client.cookies["ropewright_session"]
    client.post("/logout", data={"csrf": served.csrf(client)})
    client.cookies.set("ropewright_session", secret)
    assert client.get("/").status_code == 303


def test_another_password_ends_all_sessions(served: Served) -> None:
    one, other = served.browser("inspector"), served.browser("inspector")
    form = {"csrf": served.csrf(one), "old": PASSWORD, "new": "another long password"}
    assert one.post("/me/password", data=form).status_code == 303
    assert other.get("/").status_code == 303


def test_a_closed_account_is_out_at_once(served: Served) -> None:
    client, keeper = served.browser("planner"), served.browser("keeper")
    planner = served.tools.access.account_by_login("planner")
    assert planner is not None
    form = {"csrf": served.csrf(keeper), "roles": "planner"}
    assert keeper.post(f"/people/{planner.person_id}", data=form).status_code == 303
    assert client.get("/").status_code == 303
    assert served.browser().post(
        "/login", data={"login": "planner", "password": PASSWORD}
    ).status_code in (403, 429)


def test_token_lets_a_program_in_until_it_is_revoked(served: Served) -> None:
    client = served.browser("planner")
    token_csrf = served.csrf(client)
    page = client.post(
        "/people/tokens/new", data={"csrf": token_csrf, "purpose": "api", "name": "board screen"}
    )
    secret = page.text.split('class="hash">')[1].split("<")[0]
    program = served.browser()
    bearer = {"authorization": f"Bearer {secret}"}
    assert program.get("/api/v1/me", headers=bearer).json()["roles"] == ["planner"]
    book = served.tools.book._book  # type: ignore[attr-defined]
    with book.reader() as conn:
        (kept,) = conn.execute(TOKENS.select()).all()
    assert secret not in str(tuple(kept))
    client.post(f"/people/tokens/{kept.token_id}/revoke", data={"csrf": token_csrf})
    assert program.get("/api/v1/me", headers=bearer).status_code == 401


def test_calendar_token_opens_the_calendar_only(served: Served) -> None:
    client = served.browser("planner")
    page = client.post(
        "/people/tokens/new",
        data={"csrf": served.csrf(client), "purpose": "calendar", "name": "phone"},
    )
    address = page.text.split('class="hash">')[1].split("<")[0].replace("http://testserver", "")
    program = served.browser()
    answer = program.get(address)
    assert answer.headers["content-type"].startswith("text/calendar")
    assert "BEGIN:VEVENT" in answer.text
    secret = address.removeprefix("/calendar/").removesuffix(".ics")
    bearer = {"authorization": f"Bearer {secret}"}
    assert program.get("/api/v1/me", headers=bearer).status_code == 401
    assert program.get("/calendar/wrong.ics").status_code == 303


def test_short_password_is_refused_without_repeating_it(served: Served) -> None:
    account = served.tools.access.account_by_login("planner")
    assert account is not None
    with pytest.raises(InputError) as refused:
        served.app.state.office.door.set_password(account, "short")
    assert "short" not in str(refused.value)


def test_argon2_as_the_library_recommends() -> None:
    """Argon2id with RFC 9106's second recommended choice; published: RFC 9106, 4."""
    made = Argon2Passwords().hash(PASSWORD)
    assert made.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    assert Argon2Passwords().verify(made, PASSWORD)
    assert not Argon2Passwords().verify(made, PASSWORD + "x")
    assert not Argon2Passwords().verify("", PASSWORD)
