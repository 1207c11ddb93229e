"""A case file of 50 findings, as a person would write it; invented."""

FINDINGS = 50

_HEAD = """\
schema = 1
title = "invented rope"
invented = true

[crane]
id = "crane 1"
kind = "trolley-jib tower crane"

[[rigging]]
valid_from = 2025-01-09
falls = 2
drum_layers = "multi"
sheaves = "steel"

[rope]
diameter = "20 mm"
construction = "35(W)x7"
length = "420 m"
lay_type = "ordinary"

[installation]
hoist = "hoist"
fitted_on = 2025-01-09
rules = ["iso-4309-2017", "us-29cfr-1926-1413"]
interval_days = 31

[[inspection]]
id = "2026-11-09"
kind = "periodic"
on = 2026-11-09
next_by = 2026-12-09
seen = ["end A fitting", "end B fitting", "drum", "sheaves"]

[[inspection.person]]
role = "rope inspector"
competence = "competent"

[[inspection.pass]]
method = "eye-round"
whole = true
"""

_BREAKS = """
[[inspection.finding]]
id = "finding {number}"
kind = "broken wires"
at = "{at} m"
at_err = "± 1.0 m"
between_err = "± 10 mm"
method = "feel"
offset_err = "± 2 mm"
breaks = [
    {{ at = "0 mm", strand = 3, site = "crown", protruding = true }},
    {{ at = "96 mm", strand = 9, site = "crown" }},
    {{ at = "250 mm", strand = 14, site = "crown" }},
]
"""

_DIAMETER = """
[[inspection.finding]]
id = "finding {number}"
kind = "diameter"
at = "{at} m"
at_err = "± 1.0 m"
method = "gauge"
readings = ["20.25 mm", "20.15 mm"]
"""


def case_text() -> str:
    """TOML text of a case file with 50 findings."""
    findings = [
        (_DIAMETER if number % 5 == 0 else _BREAKS).format(number=number, at=5 + 8 * number)
        for number in range(FINDINGS)
    ]
    return _HEAD + "".join(findings)
