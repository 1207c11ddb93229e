"""The server put together: guards, gate, pages, API, errors in one shape."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial
from importlib import resources
from pathlib import Path
from typing import Any

from fastapi import Depends, FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.staticfiles import StaticFiles

from ropewright.web.api import routes as api_routes
from ropewright.web.catalogue import FIELD_FILES, load_texts
from ropewright.web.door import Door
from ropewright.web.failing import add_failures
from ropewright.web.guards import Guard
from ropewright.web.hashing import Argon2Passwords, PasswordKeeper
from ropewright.web.judged import Judged, Warmer
from ropewright.web.office import Office, gate
from ropewright.web.pages import ROUTERS
from ropewright.web.pages.rope import prepare
from ropewright.web.rendering import environment
from ropewright.web.settings import Settings
from ropewright.web.tools import WebTools


def _packed(files: StaticFiles) -> GZipMiddleware:
    """Send fixed files compressed; pages see to that themselves, see `ropewright.web.packing`."""
    return GZipMiddleware(files, minimum_size=1000)


def _warmer(office: Office) -> Warmer:
    return Warmer(office.tools, office.judged, prepare=partial(prepare, office), busy=office.busy)


def create_app(
    tools: WebTools,
    settings: Settings | None = None,
    *,
    passwords: PasswordKeeper | None = None,
    warm: bool = False,
) -> FastAPI:
    """The application, ready to be served.

    Parameters
    ----------
    tools
        The open book and everything else that was wired.
    settings
        How the server runs.
    passwords
        Compares passwords; Argon2 if not given.
    warm
        Whether to judge all ropes in the background.
    """
    chosen = settings or Settings()
    texts = load_texts()
    judged = Judged(tools)
    static = Path(str(resources.files("ropewright.web").joinpath("static")))
    office = Office(
        tools=tools,
        settings=chosen,
        door=Door(tools.access, passwords or Argon2Passwords(), tools.now, chosen),
        judged=judged,
        pages=environment(texts, tools.software),
        texts=texts,
        field_texts=load_texts(*FIELD_FILES),
        field_there=(static / "field" / "index.html").is_file(),
    )

    @asynccontextmanager
    async def life(_app: FastAPI) -> AsyncIterator[None]:
        warmer = _warmer(office) if warm else None
        if warmer is not None:
            warmer.start()
        yield
        if warmer is not None:
            warmer.stop()

    app = FastAPI(
        title="ropewright",
        version=tools.software.partition(" ")[2] or "0",
        summary="Ropes, field cards and entries of a logbook. It advises; a person decides.",
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        lifespan=life,
        telemetry={"auto_configure": False, "tracing": False, "metrics": False, "logs": False},
    )
    app.state.office = office
    app.add_middleware(Guard, settings=chosen, texts=texts)
    add_failures(app)
    guarded: list[Any] = [Depends(gate)]
    app.include_router(api_routes.router, dependencies=guarded)
    for router in ROUTERS:
        app.include_router(router, dependencies=guarded)
    if office.field_there:
        app.mount("/field", _packed(StaticFiles(directory=static / "field", html=True)), "field")
    app.mount("/static", _packed(StaticFiles(directory=static)), "static")
    return app
