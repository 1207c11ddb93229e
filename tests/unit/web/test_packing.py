"""Compressed answers: the same page, only for those who take it, and no secrets."""

import gzip

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.web.packing import LEAST_BYTES, packed, takes_gzip
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE
from tests.unit.web.test_kept import without_tokens


@pytest.mark.parametrize(
    ("accepted", "takes"),
    [
        # published: RFC 9110 (2022), 12.5.3: a coding with weight 0 is not acceptable
        ("gzip", True),
        ("gzip, deflate, br, zstd", True),
        ("deflate, GZIP;q=0.3", True),
        ("x-gzip", True),
        ("*", True),
        ("", False),
        ("identity", False),
        ("br", False),
        ("gzip;q=0", False),
        ("gzip; q=0.0, *", False),
        ("*;q=0", False),
        ("br, *;q=0.1", True),
        ("gzipped", False),
    ],
)
def test_only_who_takes_it_gets_it(accepted: str, takes: bool) -> None:
    assert takes_gzip(accepted) is takes


@given(st.binary(max_size=5000))
def test_what_is_sent_is_what_was_made(body: bytes) -> None:
    """Other program: the standard library's own gzip reads it back."""
    sent, headers = packed(body, "gzip")
    if len(body) < LEAST_BYTES:
        assert sent == body
        assert "content-encoding" not in headers
    else:
        assert headers["content-encoding"] == "gzip"
        assert gzip.decompress(sent) == body
    assert headers["vary"] == "accept-encoding"


def test_page_is_the_same_compressed_or_not(shared: Served) -> None:
    client = shared.browser("inspector")
    for path in (f"/ropes/{ROPE}", "/", f"/ropes/{ROPE}/chart.svg"):
        plain = client.get(path, headers={"accept-encoding": "identity"})
        small = client.get(path, headers={"accept-encoding": "gzip"})
        assert "content-encoding" not in plain.headers
        assert small.headers["content-encoding"] == "gzip"
        assert without_tokens(small.text) == without_tokens(plain.text)
        assert int(small.headers["content-length"]) < len(plain.content) / 2


def test_secret_that_is_shown_once_is_not_compressed(served: Served) -> None:
    client = served.browser("planner")
    form = {"csrf": served.csrf(client), "purpose": "api", "name": "a program"}
    answer = client.post("/people/tokens/new", data=form, headers={"accept-encoding": "gzip"})
    assert answer.status_code == 200
    assert "content-encoding" not in answer.headers
