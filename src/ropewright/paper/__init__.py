"""The report to sign: one to three pages as PDF, tagged, with the record inside.

This room knows how to lay out what the assessment says and what the dossier holds, so that page
1 alone, in grey, answers what the verdict is, by which clause, where, who decides and by when.
Typed text comes in as data only, never as the template's own language.  It refuses to judge,
to count and to fill in what a person must answer by hand.
"""

from ropewright.paper.order import order_pdf
from ropewright.paper.plan_sheet import plan_pdf
from ropewright.paper.report import report_pdf
from ropewright.paper.rope_card import rope_card_pdf

__all__ = ["order_pdf", "plan_pdf", "report_pdf", "rope_card_pdf"]
