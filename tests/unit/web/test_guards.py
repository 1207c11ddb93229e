"""Before every route: hosts, origins, sizes; after it: headers."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from ropewright.errors import InputError
from ropewright.web import Settings
from ropewright.web.guards import HEADERS
from ropewright.web.running import check_tls, prepare_local, warnings_for
from tests.unit.web.conftest import Served, serve


@pytest.fixture
def alone(book_file: Path, tmp_path: Path) -> Iterator[Served]:
    """A book served to one person on this machine."""
    copy = tmp_path / "site.book"
    shutil.copy(book_file, copy)
    made, book = serve(copy, Settings(single_user=True))
    prepare_local(made.tools)
    yield made
    book.close()


def test_every_answer_has_the_headers(shared: Served) -> None:
    client = shared.browser()
    for path in ("/login", "/static/office.css", "/health", "/nothing", "/api/v1/me"):
        answer = client.get(path)
        for name, value in HEADERS:
            assert answer.headers[name] == value, path


def test_policy_allows_nothing_inline_and_nothing_from_outside() -> None:
    policy = dict(HEADERS)["content-security-policy"]
    assert "unsafe" not in policy
    assert "http" not in policy
    assert "default-src 'self'" in policy


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://elsewhere.example"},
        {"origin": "null"},
        {"origin": "http://testserver.elsewhere.example"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {},
    ],
)
def test_change_from_another_site_is_refused(headers: dict[str, str], served: Served) -> None:
    client = served.browser("operator")
    token = served.csrf(client)
    del client.headers["origin"]
    answer = client.post(
        "/ropes/KQ-1 hoist/hold", data={"csrf": token, "reason": "x"}, headers=headers
    )
    assert answer.status_code == 403
    assert not any(one.kind == "hold" for one in served.tools.book.lines("KQ-1 hoist"))


def test_form_of_another_session_is_refused(served: Served) -> None:
    one, other = served.browser("operator"), served.browser("planner")
    form = {"csrf": served.csrf(other), "reason": "x"}
    assert one.post("/ropes/KQ-1 hoist/hold", data=form).status_code == 403


def test_session_beside_a_wrong_token_does_not_count(served: Served) -> None:
    """A token turns the check of the origin off, so the cookie must not help it."""
    client = served.browser("operator")
    del client.headers["origin"]
    body = {"device": {"id": "p", "sent_at": "2026-11-10T09:00:00Z"}, "entries": []}
    answer = client.post("/api/v1/entries", json=body, headers={"authorization": "Bearer wrong"})
    assert answer.status_code == 401


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.5", "::", "crane.example"])
def test_single_user_mode_is_for_this_machine_only(host: str) -> None:
    with pytest.raises(InputError, match="single-user"):
        Settings(host=host, single_user=True)


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "::1", "127.9.9.9"])
def test_single_user_mode_on_this_machine(host: str) -> None:
    assert Settings(host=host, single_user=True).single_user


def test_single_user_mode_answers_to_its_own_name_only(alone: Served) -> None:
    """Another name that leads here is how a page elsewhere would reach this machine."""
    assert alone.browser(base="http://localhost:8470").get("/").status_code == 200
    assert alone.browser(base="http://127.0.0.1:8470").get("/").status_code == 200
    for base in ("http://elsewhere.example:8470", "http://localhost:9999"):
        assert alone.browser(base=base).get("/").status_code == 403


def test_single_user_mode_still_wants_origin_and_form_token(alone: Served) -> None:
    client = alone.browser(base="http://localhost:8470")
    token = alone.csrf(client)
    path = "/ropes/KQ-1 hoist/hold"
    assert client.post(path, data={"reason": "x"}).status_code == 403
    elsewhere = client.post(
        path, data={"csrf": token, "reason": "x"}, headers={"origin": "http://elsewhere.example"}
    )
    assert elsewhere.status_code == 403
    assert client.post(path, data={"csrf": token, "reason": "x"}).status_code == 303
    line = alone.tools.book.lines("KQ-1 hoist", most=1)[0]
    assert [role for _, role in line.by] == ["operator"]


def test_cookie_under_tls_is_bound_to_the_host(book_file: Path, tmp_path: Path) -> None:
    copy = tmp_path / "site.book"
    shutil.copy(book_file, copy)
    made, book = serve(copy, Settings(host="0.0.0.0", tls=True))
    client = made.browser(base="https://crane.example")
    answer = client.post("/login", data={"login": "inspector", "password": "the rope runs away"})
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("__Host-ropewright_session=")
    assert "Secure" in cookie
    assert "Domain" not in cookie
    assert "max-age" in answer.headers["strict-transport-security"]
    book.close()


def test_after_the_login_only_pages_of_this_site(served: Served) -> None:
    for onward in ("//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example"):
        client = served.browser()
        form = {"login": "inspector", "password": "the rope runs away", "next": onward}
        assert client.post("/login", data=form).headers["location"] == "/"


def test_start_warns_of_what_is_open(shared: Served) -> None:
    assert any("TLS" in one for one in warnings_for(shared.tools, Settings(host="0.0.0.0")))
    assert warnings_for(shared.tools, Settings(host="0.0.0.0", tls=True)) == []
    assert warnings_for(shared.tools, Settings()) == []


def test_half_of_tls_is_refused(tmp_path: Path) -> None:
    assert check_tls(None, None) is False
    with pytest.raises(InputError, match="both or none"):
        check_tls(tmp_path / "cert.pem", None)
    with pytest.raises(InputError, match="cannot be used"):
        check_tls(tmp_path / "cert.pem", tmp_path / "key.pem")


def test_fixed_files_come_compressed(shared: Served) -> None:
    """Pages too: `test_packing` and `test_kept` say under which conditions."""
    client = shared.browser()
    for path in ("/field/evaluate.js", "/static/office.css"):
        answer = client.get(path, headers={"accept-encoding": "gzip"})
        assert answer.headers["content-encoding"] == "gzip"
        assert "default-src 'self'" in answer.headers["content-security-policy"]
