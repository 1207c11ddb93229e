"""The pages people see, one module each: what is asked for, what the template gets.

This part knows addresses, forms and templates.  What a page shows is worked out in `views`;
who may see it stands in `gate`.
"""

from typing import Final

from fastapi import APIRouter

from ropewright.web.pages import (
    audit,
    board,
    crane,
    crane_reading,
    documents,
    exchange,
    fitting,
    forms,
    handover,
    history,
    inspection,
    inspection_progress,
    login,
    order,
    people,
    places,
    rope,
    rope_chart,
    rules,
    set_up,
    taking_out,
    wear,
)

ROUTERS: Final[tuple[APIRouter, ...]] = tuple(
    page.router
    for page in (
        login, board, rope, rope_chart, history, documents, forms, places, order, fitting,
        inspection, inspection_progress, crane, crane_reading, set_up, rules, handover, audit,
        exchange, taking_out, people, wear,
    )
)  # fmt: skip

__all__ = ["ROUTERS"]
