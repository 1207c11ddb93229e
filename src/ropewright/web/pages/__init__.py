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
    exchange,
    fitting,
    forms,
    handover,
    inspection,
    login,
    order,
    people,
    places,
    rope,
    rules,
    set_up,
    wear,
)

ROUTERS: Final[tuple[APIRouter, ...]] = tuple(
    page.router
    for page in (
        login, board, rope, forms, places, order, fitting, inspection, crane, crane_reading,
        set_up, rules, handover, audit, exchange, people, wear,
    )
)  # fmt: skip

__all__ = ["ROUTERS"]
