"""Every failure in one shape: JSON under /api, a page elsewhere, never a stack trace."""

from typing import Any, cast

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse, Response
from starlette.exceptions import HTTPException

from ropewright.errors import InputErrors, RopewrightError
from ropewright.web.office import Office, Visit

#: Titles of failures, as keys of their words.
TITLES = {
    400: "failure.not-usable",
    401: "failure.log-in",
    403: "failure.not-your-role",
    404: "failure.not-found",
    405: "failure.not-that-way",
    409: "failure.says-else",
    413: "failure.too-large",
    422: "failure.not-usable",
    500: "failure.here",
    503: "failure.no-book",
}


def body_of(error: str, message: str, **more: Any) -> dict[str, Any]:  # noqa: ANN401
    """The one JSON shape of every failure."""
    empty = {"file": None, "field": None, "expected": None, "given": None, "hint": None}
    return {"error": error, "message": message, **empty, "errors": [], **more}


def answer(request: Request, status: int, body: dict[str, Any]) -> Response:
    """A failure as JSON for programs, as a page for people."""
    if request.url.path.startswith("/api/"):
        return JSONResponse(body, status_code=status)
    office = cast(Office, request.app.state.office)
    if status == 401 and request.method in ("GET", "HEAD"):
        path = request.url.path
        query = f"?next={path}" if path != "/" else ""
        return RedirectResponse(f"/login{query}", status_code=303)
    visit = getattr(request.state, "visit", None) or Visit(
        office=office, request=request, caller=None, allowed=frozenset()
    )
    title = visit.t(TITLES.get(status, "failure.other"))
    return visit.page("failure.html", status, title=title, body=body, status=status)


def add_failures(app: FastAPI) -> None:
    """Teach an application how to fail."""

    @app.exception_handler(RopewrightError)
    def ours(request: Request, error: RopewrightError) -> Response:
        return answer(request, error.http_status, _without_file(error))

    @app.exception_handler(HTTPException)
    def http(request: Request, error: HTTPException) -> Response:
        kinds = {401: "login", 403: "not-allowed", 404: "not-found", 413: "too-large"}
        body = body_of(kinds.get(error.status_code, "request"), str(error.detail))
        return answer(request, error.status_code, body)

    @app.exception_handler(RequestValidationError)
    def invalid(request: Request, error: RequestValidationError) -> Response:
        parts = [
            body_of(
                "input", f"{_path(one)}: {one['msg']}", field=_path(one), expected=one["msg"],
                given=None,
            )
            for one in error.errors()
        ]  # fmt: skip
        body = body_of("input", "; ".join(part["message"] for part in parts), errors=parts)
        broken = any(one["type"] == "json_invalid" for one in error.errors())
        return answer(request, 400 if broken else 422, body)


def _path(one: dict[str, Any]) -> str:
    return ".".join(str(part) for part in one["loc"] if part != "body") or "body"


def _without_file(error: RopewrightError) -> dict[str, Any]:
    """The error without the path of the book: that is nobody's business outside."""
    data = error.as_dict()
    for one in (data, *data["errors"]):
        path = one.get("file")
        if path:
            one["message"] = one["message"].replace(f"{path}: ", "")
            one["file"] = None
    if isinstance(error, InputErrors):
        data["message"] = "; ".join(one["message"] for one in data["errors"])
    return data
