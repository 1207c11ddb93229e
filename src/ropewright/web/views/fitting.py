"""Fitting a rope: how far it is, and by which order it may have been bought."""

from collections.abc import Sequence
from dataclasses import dataclass

from ropewright.desk.installing import FittingGuide
from ropewright.desk.installing_steps import RELEASE
from ropewright.desk.open_book import Stand
from ropewright.web.addresses import in_address


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderChoice:
    """An order in the book.  ``key`` is what the form sends for it."""

    key: str
    rope_id: str
    order_id: str
    checked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a fitting is.  ``done`` of ``whole`` steps [-]; ``next_key`` is what comes next."""

    is_open: bool
    done: int
    whole: int
    next_key: str
    next_title: str
    ready: bool
    hold_id: str


def orders_known(stands: Sequence[Stand]) -> tuple[OrderChoice, ...]:
    """Orders of all ropes, those of the newest name last.

    Parameters
    ----------
    stands
        Where the ropes of the book stand.
    """
    return tuple(
        OrderChoice(
            key=f"{in_address(one.rope_id)}/{in_address(order_id)}", rope_id=one.rope_id,
            order_id=order_id, checked=bool(order.get("checked")),
        )
        for one in sorted(stands, key=lambda one: one.rope_id)
        for order_id, order in sorted(one.record.get("orders", {}).items())
    )  # fmt: skip


def progress_of(guide: FittingGuide) -> Progress:
    """How far a fitting is.

    Parameters
    ----------
    guide
        The fitting as it stands.
    """
    said, nearest = guide.said, guide.next_step
    is_open = said.begun_on is not None and said.released_on is None
    return Progress(
        is_open=is_open,
        done=sum(one.state == "done" for one in guide.steps),
        whole=len(guide.steps),
        next_key="" if nearest is None else nearest.step.key,
        next_title="" if nearest is None else nearest.step.title,
        ready=is_open and not guide.missing and any(one.step.key == RELEASE for one in guide.steps),
        hold_id=f"fitting {said.begun_on.isoformat()}" if said.begun_on is not None else "",
    )
