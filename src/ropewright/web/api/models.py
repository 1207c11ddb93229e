"""Shapes of the API.  They are strict: a number is no text, and what is not known is refused."""

from datetime import datetime
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field


class _Strict(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class Problem(_Strict):
    """Every failure, in one shape."""

    error: str
    message: str
    file: str | None = None
    field: str | None = None
    expected: str | None = None
    given: str | None = None
    hint: str | None = None
    errors: list[dict[str, Any]] = Field(default_factory=list)


class Me(_Strict):
    """Who is logged in."""

    person_id: str
    name: str
    roles: list[str]
    units: str
    hand: str
    theme: str
    single_user: bool


class RopeShort(_Strict):
    """A rope in the list; ``verdict`` is null where the rope cannot be judged."""

    rope_id: str
    crane: str
    hoist: str
    verdict: str | None
    on_hold: bool
    open_marks: int
    last_inspection: str | None


class EntryIn(_Strict):
    """An entry as a phone sends it.

    ``payload`` is the content of its kind, as an object or as its canonical text; numbers with
    a decimal point are written as text.  Moments carry their offset.  ``happened_on`` is the
    day at the site; without it the day follows from ``happened_at`` and its offset.
    """

    id: str = Field(description="a UUID in lower case, made by the device")
    kind: str
    rope_id: str = ""
    happened_on: str | None = Field(default=None, description="like 2026-11-09")
    happened_at: str | None = Field(default=None, description="like 2026-11-09T07:30:00+01:00")
    typed_at: str | None = None
    person_id: str | None = None
    role: str | None = None
    payload: dict[str, Any] | str


class DeviceIn(_Strict):
    """The device, and its clock at the moment of sending."""

    id: str = Field(min_length=1, max_length=100)
    sent_at: str = Field(description="the device's clock with its offset")


class EntriesIn(_Strict):
    """Entries of one device.  Each is checked on its own."""

    device: DeviceIn
    entries: list[dict[str, Any]] = Field(
        max_length=500, json_schema_extra={"items": EntryIn.model_json_schema()}
    )


class ResultOut(_Strict):
    """What became of one entry; ``reason`` and ``field`` where it was refused."""

    id: str
    state: Literal["taken", "known", "refused"]
    reason: str | None = None
    field: str | None = None


class EntriesOut(_Strict):
    """What became of all of them.  ``clock_offset_s`` [s]: the device's clock was ahead by it."""

    received_at: datetime
    clock_offset_s: int
    results: list[ResultOut]


class PhotoOut(_Strict):
    """The hash of a photo's original."""

    sha256: str
