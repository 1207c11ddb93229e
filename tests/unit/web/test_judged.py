"""What was judged is kept while it holds, and only then."""

import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date

import pytest

from ropewright.errors import StoreError
from ropewright.web.glances import glance_text, read_glance
from ropewright.web.judged import Judged, Warmer
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send


def test_glance_is_read_back_as_it_was(shared: Served) -> None:
    judged = Judged(shared.tools)
    for stand in shared.tools.book.stands():
        one = judged.glance(stand)
        assert read_glance(glance_text(one)) == one


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"level": "clear"}', "nonsense"])
def test_text_of_another_version_is_judged_anew(text: str) -> None:
    assert read_glance(text) is None


def test_kept_glances_spare_a_new_server_the_work(served: Served) -> None:
    first = Judged(served.tools)
    stands = served.tools.book.stands()
    made = [first.glance(stand) for stand in stands]
    first.keep()
    second = Judged(served.tools)
    assert second.missing(stands) == list(stands)
    second.recall()
    assert second.missing(stands) == []
    assert [second.glance(stand) for stand in stands] == made


def test_nothing_is_recalled_on_another_day_or_with_other_rules(served: Served) -> None:
    first = Judged(served.tools)
    stands = served.tools.book.stands()
    for stand in stands:
        first.glance(stand)
    first.keep()
    later = Judged(replace(served.tools, today=lambda: date(2026, 11, 11)))
    later.recall()
    assert later.missing(stands) == list(stands)
    other = Judged(replace(served.tools, software="ropewright 9"))
    other.recall()
    assert other.missing(stands) == list(stands)


def test_many_who_open_a_rope_at_once_have_it_judged_once(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    judged, count, judge = Judged(served.tools), [], Judged._judge

    def slowly(self: Judged, rope_id: str, today: date) -> object:
        count.append(rope_id)
        time.sleep(0.05)
        return judge(self, rope_id, today)

    monkeypatch.setattr(Judged, "_judge", slowly)
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(judged.overview, [ROPE] * 8))
    assert count == [ROPE]
    assert all(one is found[0] for one in found)


def test_an_entry_makes_its_rope_and_no_other_judged_anew(served: Served) -> None:
    judged = served.app.state.office.judged
    for stand in served.tools.book.stands():
        judged.glance(stand)
    send(served.browser("operator"), event())
    assert [one.rope_id for one in judged.missing(served.tools.book.stands())] == [ROPE]
    assert judged.overview(ROPE).assessment.verdict.on_hold


def test_background_judges_what_is_missing_and_stops(served: Served) -> None:
    judged = Judged(served.tools)
    warmer = Warmer(served.tools, judged, every_s=0.01)
    warmer.start()
    for _ in range(500):
        if not judged.missing(served.tools.book.stands()):
            break
        warmer.join(0.05)
    warmer.stop()
    assert not warmer.is_alive()
    assert judged.missing(served.tools.book.stands()) == []


def test_a_database_that_does_not_answer_says_nothing_of_the_rope(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A moment's silence must not stand on the board as 'cannot be judged' for the whole day."""
    judged = served.app.state.office.judged
    stand = served.tools.book.stand(ROPE)

    def silent(_rope: str) -> None:
        raise StoreError("the database says: it is locked")

    with monkeypatch.context() as patched:
        patched.setattr(served.tools.book, "dossier", silent)
        with pytest.raises(StoreError):
            judged.glance(stand)
        assert served.browser("planner").get("/").status_code == 503
    assert judged.glance(stand).level == "remove"


def test_board_counts_what_is_not_judged_yet(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is left out in silence while the background is still at work."""
    monkeypatch.setattr("ropewright.web.pages.board.PATIENCE_S", -1.0)
    page = served.browser("planner").get("/").text
    assert "3 ropes not judged yet today" in page
