"""Who may do what: one table of every route, and one of every kind of entry.

What does not stand here is refused.  `PUBLIC` routes show nothing of a book.
"""

from collections.abc import Mapping
from typing import Final

from ropewright.web.caller import ROLES

Roles = frozenset[str]

PUBLIC: Final[Roles] = frozenset({"public"})
#: Calendars are asked for by programs that know a token and nothing else.
CALENDAR: Final[Roles] = frozenset({"calendar"})

EVERYONE: Final[Roles] = frozenset(ROLES)
COMPETENT: Final[Roles] = frozenset({"inspector", "external examiner"})
KEEPER: Final[Roles] = frozenset({"keeper"})
OFFICE: Final[Roles] = frozenset({"keeper", "planner", "inspector", "external examiner"})
INSPECTS: Final[Roles] = COMPETENT | {"operator", "rope fitter"}
SETS_UP: Final[Roles] = frozenset({"keeper", "planner", "inspector", "rope fitter"})
ORDERS: Final[Roles] = frozenset({"planner", "keeper", "inspector"})
HANDS_OVER: Final[Roles] = EVERYONE

ROUTES: Final[Mapping[str, Roles]] = {
    # coming in and going out
    "GET /login": PUBLIC,
    "POST /login": PUBLIC,
    "POST /logout": EVERYONE,
    "GET /health": PUBLIC,
    "GET /api/texts/en.json": PUBLIC,
    # phones and programs
    "GET /api/openapi.json": EVERYONE,
    "GET /api/v1/me": EVERYONE,
    "GET /api/v1/ropes": EVERYONE,
    "GET /api/v1/ropes/{rope_id}/card": EVERYONE,
    "POST /api/v1/entries": EVERYONE,
    "POST /api/v1/photos": EVERYONE,
    "GET /api/v1/photos/{sha256}": EVERYONE,
    "GET /api/v1/ropes/{rope_id}/report.json": EVERYONE,
    # looking
    "GET /": EVERYONE,
    "GET /ropes/{rope_id}": EVERYONE,
    "GET /ropes/{rope_id}/chart": EVERYONE,
    "GET /ropes/{rope_id}/chart.svg": EVERYONE,
    "GET /ropes/{rope_id}/trend.svg": EVERYONE,
    "GET /ropes/{rope_id}/why/{ruling_id:path}": EVERYONE,
    "GET /ropes/{rope_id}/places": EVERYONE,
    "GET /ropes/{rope_id}/plan.pdf": EVERYONE,
    "GET /ropes/{rope_id}/report.pdf": EVERYONE,
    "GET /ropes/{rope_id}/label.pdf": EVERYONE,
    "GET /ropes/{rope_id}/rope-card.pdf": EVERYONE,
    "GET /ropes/{rope_id}/field-card.pdf": EVERYONE,
    "GET /ropes/{rope_id}/case.toml": EVERYONE,
    "GET /ropes/{rope_id}/tables/{what}.csv": EVERYONE,
    "GET /ropes/{rope_id}/tables.xlsx": EVERYONE,
    "GET /ropes/{rope_id}/due.ics": EVERYONE,
    "GET /ropes/{rope_id}/history": EVERYONE,
    "GET /ropes/{rope_id}/entries/{entry_id}": EVERYONE,
    "GET /ropes/{rope_id}/order": EVERYONE,
    "GET /ropes/{rope_id}/inspections/{inspection_id}": EVERYONE,
    "GET /ropes/{rope_id}/inspections/{inspection_id}/progress": EVERYONE,
    "GET /ropes/{rope_id}/inspections/{inspection_id}/signed.pdf": EVERYONE,
    "GET /cranes/{rope_id}": EVERYONE,
    "GET /cranes/{rope_id}/drawing.svg": EVERYONE,
    "GET /rules": EVERYONE,
    "GET /rules/{name}": EVERYONE,
    "GET /ropes/{rope_id}/rules": EVERYONE,
    "GET /handover": EVERYONE,
    "GET /audit": EVERYONE,
    "GET /me": EVERYONE,
    "POST /me": EVERYONE,
    "POST /me/password": EVERYONE,
    # saying
    "POST /ropes/{rope_id}/hold": EVERYONE,
    "POST /ropes/{rope_id}/event": EVERYONE,
    "POST /ropes/{rope_id}/limit": EVERYONE,
    "POST /ropes/{rope_id}/release": COMPETENT,
    "POST /ropes/{rope_id}/correct/{entry_id}": OFFICE,
    "GET /ropes/{rope_id}/wear": EVERYONE,
    "POST /ropes/{rope_id}/wear": OFFICE | {"rope fitter"},
    "GET /ropes/{rope_id}/fitting": EVERYONE,
    "POST /ropes/{rope_id}/fitting": SETS_UP | COMPETENT,
    "POST /ropes/{rope_id}/order": ORDERS,
    "POST /ropes/{rope_id}/order-check": ORDERS,
    "POST /ropes/{rope_id}/accept": EVERYONE,
    "POST /ropes/{rope_id}/inspections/{inspection_id}/sign": COMPETENT,
    "POST /ropes/{rope_id}/inspections/{inspection_id}/same": COMPETENT,
    "POST /ropes/{rope_id}/inspections/{inspection_id}/unseen": COMPETENT,
    "POST /ropes/{rope_id}/rules": KEEPER | COMPETENT,
    "POST /ropes/{rope_id}/permit": KEEPER | COMPETENT,
    "POST /ropes/{rope_id}/confirm": KEEPER | COMPETENT,
    "POST /cranes/{rope_id}": SETS_UP,
    "POST /cranes/{rope_id}/reading": SETS_UP,
    "GET /set-up": SETS_UP,
    "POST /set-up": SETS_UP,
    "POST /handover": HANDS_OVER,
    "POST /audit": EVERYONE,
    # the whole book
    "GET /exchange": OFFICE,
    "GET /exchange/book.jsonl": OFFICE,
    # with the photos as the cameras wrote them, places included
    "GET /exchange/book.zip": KEEPER,
    "GET /exchange/{what}.csv": OFFICE,
    "GET /exchange/tables.xlsx": OFFICE,
    "GET /exchange/due.ics": OFFICE,
    "GET /exchange/verify_book.py": OFFICE,
    "POST /exchange/case": SETS_UP,
    # a book brings signatures and releases of its own: who keeps this one decides
    "POST /exchange/book": KEEPER,
    "POST /exchange/cards": SETS_UP,
    "GET /people": EVERYONE,
    "POST /people": KEEPER,
    "POST /people/{person_id}": KEEPER,
    "POST /people/tokens/new": EVERYONE,
    "POST /people/tokens/{token_id}/revoke": EVERYONE,
    "GET /calendar/{token}": CALENDAR,
}

#: Which roles may send which kind of entry.  A signature is no entry to send: it is made where
#: the password is asked for again.  What is not named here is not taken.
KINDS: Final[Mapping[str, Roles]] = {
    "page": SETS_UP,
    "crane": SETS_UP,
    "rigging": SETS_UP,
    "rope": SETS_UP,
    "certificate": SETS_UP,
    "installation": SETS_UP,
    "reference measurement": INSPECTS | SETS_UP,
    "permission": KEEPER | COMPETENT,
    "rule confirmed": KEEPER | COMPETENT,
    "cut": SETS_UP | COMPETENT,
    "end for end": SETS_UP | COMPETENT,
    "re-termination": SETS_UP | COMPETENT,
    "re-spool": SETS_UP | COMPETENT,
    "lubrication": INSPECTS | SETS_UP,
    "re-zero": EVERYONE,
    "limit override": EVERYONE,
    "limit reset": EVERYONE,
    "event": EVERYONE,
    "hold": EVERYONE,
    "release": COMPETENT,
    "inspection begun": INSPECTS,
    "pass": INSPECTS,
    "hidden section": INSPECTS,
    "unseen accepted": COMPETENT,
    "examined": INSPECTS,
    "instrument": INSPECTS,
    "finding": EVERYONE,
    "cluster": EVERYONE,
    "reading": INSPECTS,
    "part finding": EVERYONE,
    "photo": EVERYONE,
    "mark": INSPECTS,
    "inspection finished": INSPECTS,
    "warning shown": EVERYONE,
    "warning dismissed": EVERYONE,
    "verdict accepted": EVERYONE,
    "handover taken": EVERYONE,
    "order": ORDERS,
    "order checked": ORDERS,
    "spare stored": SETS_UP,
    "rope taken off": SETS_UP | COMPETENT,
    "fitting step": SETS_UP | COMPETENT,
    "inner count": COMPETENT | {"rope fitter"},
    "correction": OFFICE,
    "comparison": COMPETENT,
    "detection trial": INSPECTS,
    "forecast made": OFFICE,
}

#: What holds a rope back, or was vouched for by name.  To withdraw it may put the rope to work
#: again: that is for those who may release.
GRAVE: Final = frozenset(
    {
        "event", "hold", "release", "limit override", "finding", "cluster", "reading",
        "part finding", "hidden section", "unseen accepted", "inspection signed", "pass",
        "examined", "comparison", "permission", "rule confirmed", "inner count", "order checked",
    }
)  # fmt: skip

#: Inspections that an operator may make: the others are the inspector's.
OPERATOR_INSPECTIONS: Final = frozenset({"shift"})


def roles_for(route: str) -> Roles:
    """Roles that a route is open to; none if it is not in the table."""
    return ROUTES.get(route, frozenset())


def correctors(kind: str) -> Roles:
    """Roles that may correct an entry of a kind; an entry that is not known is a grave one."""
    return COMPETENT if kind in GRAVE or not kind else KINDS["correction"]


def role_among(roles: tuple[str, ...], allowed: Roles) -> str:
    """The first of a person's roles that is allowed, an empty text if there is none."""
    return next((role for role in roles if role in allowed), "")
