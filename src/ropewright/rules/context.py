"""What the checks share while one dossier is judged against one rule set."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from typing import Any, Final

from ropewright.geometry import Exposure, Section
from ropewright.inspection import Dossier, Inspection, Rigging
from ropewright.inspection.evidence import Evidence
from ropewright.inspection.exposed import exposures_on
from ropewright.rope import longest_plausible_lay_mm
from ropewright.rules.confirming import confirmed_words
from ropewright.rules.model import Clause, Column, RuleSet, When
from ropewright.rules.reading import parse_window
from ropewright.rules.ruling import Ruling, Status, Step
from ropewright.rules.words import number

SHORTEST_LAY_IN_DIAMETERS: Final = Fraction(6)
NANOMETRES_PER_MM: Final = 1_000_000

_parse_window = lru_cache(maxsize=64)(parse_window)


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A window [mm]; shortest and longest differ only while the lay is unknown.

    ``shortest_nm`` and ``longest_nm`` are the same in whole nanometres [nm], rounded so that
    nothing is surely inside by rounding and nothing is left out by it.
    """

    words: str
    shortest_mm: Fraction
    longest_mm: Fraction
    step: Step
    shortest_nm: int = field(init=False)
    longest_nm: int = field(init=False)

    def __post_init__(self) -> None:
        """Round to whole nanometres, the shortest down and the longest up."""
        object.__setattr__(self, "shortest_nm", floor(self.shortest_mm * NANOMETRES_PER_MM))
        object.__setattr__(self, "longest_nm", ceil(self.longest_mm * NANOMETRES_PER_MM))

    @property
    def is_known(self) -> bool:
        """Whether the length is one number."""
        return self.shortest_mm == self.longest_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """Whether conditions hold; ``unknown`` names what decides it and is not known."""

    holds: bool
    unknown: tuple[str, ...] = ()


def _one(value: object) -> tuple[object, ...]:
    return () if value is None else (value,)


@dataclass(frozen=True, slots=True, kw_only=True)
class BreaksNear:
    """Where the clusters of one ruling may lie, and the rating of those that touch a section.

    ``rate`` [%] gives the rating toward discard and where the breaks lie.
    """

    reaches: Sequence[Section]
    rate: Callable[[Section], tuple[Fraction, Section] | None]


class Context:
    """One dossier, its evidence on a date, and the rule set that is being applied."""

    def __init__(
        self,
        *,
        dossier: Dossier,
        evidence: Evidence,
        rule_set: RuleSet,
        all_rule_sets: tuple[RuleSet, ...],
        worked_out: dict[Any, Any] | None = None,
    ) -> None:
        self.dossier = dossier
        self.evidence = evidence
        self._judged = evidence.latest
        self.rule_set = rule_set
        self.all_rule_sets = all_rule_sets
        self.rope = dossier.rope
        self.diameter_mm = dossier.rope.nominal_diameter_mm
        self.rulings: list[Ruling] = []
        self.breaks_near: dict[str, BreaksNear] = {}
        #: What holds for this dossier and evidence under every rule set; worked out once.
        self.worked_out: dict[Any, Any] = {} if worked_out is None else worked_out
        self._numbers: dict[str, int] = {}
        self._said: dict[str, dict[str, Any]] = {}
        self._sources = {one.source_id: one.what for one in rule_set.sources}
        self._exposures = exposures_on(dossier, evidence.as_of)
        self._windows: dict[str, Window] = {}
        self._rigging = dossier.rigging_at(self.as_of) or Rigging(valid_from=self.as_of)

    @property
    def as_of(self) -> date:
        """The date for which the rope is judged."""
        return self.evidence.as_of

    @property
    def latest(self) -> Inspection | None:
        """The inspection whose completeness is judged."""
        return self._judged

    def judge_for(self, clause: Clause) -> None:
        """Choose the inspection a clause speaks of: the newest finished one of its kinds.

        So a monthly look after an annual inspection does not undo what the annual one saw, and
        a shift check is judged by the shift clauses.  A shift check older than the latest
        thorough inspection is past.  A clause that names no kinds, or whose kinds are not on
        record, speaks of the latest thorough inspection.
        """
        of_kind = [
            one
            for one in self.evidence.past
            if one.finished
            and one.kind in clause.at
            and (one.is_thorough or one in self.evidence.current)
        ]
        self._judged = of_kind[-1] if of_kind else self.evidence.latest

    def exposure(self, section: Section) -> Exposure:
        """What a section is exposed to, as stated by section and else by the rigging."""
        known: Exposure | None = self.worked_out.get(section)
        if known is None:
            known = self.worked_out[section] = self._exposures.over(section)
        return known

    def window(self, words: str) -> Window:
        """A window such as ``6 d`` or ``1 lay`` for this rope [mm]."""
        known = self._windows.get(words)
        if known is None:
            known = self._windows[words] = self._window(words)
        return known

    def _window(self, words: str) -> Window:
        count, unit = _parse_window(words)
        d = self.diameter_mm
        if unit == "d":
            length = count * d
            step = Step(
                says=f"counting window {words}",
                value=f"{number(count)} × {number(d)} mm = {number(length)} mm",
                origin="nominal diameter",
            )
            return Window(words=words, shortest_mm=length, longest_mm=length, step=step)
        lay = self.rope.lay_length_mm
        if lay is not None:
            length = count * lay
            step = Step(
                says=f"counting window {words}",
                value=f"{number(length)} mm",
                origin="lay length measured on this rope",
            )
            return Window(words=words, shortest_mm=length, longest_mm=length, step=step)
        longest = count * longest_plausible_lay_mm(self.rope).value
        shortest = count * SHORTEST_LAY_IN_DIAMETERS * d
        step = Step(
            says=f"counting window {words}, lay length not measured",
            value=f"between {number(shortest)} mm (6 d) and {number(longest)} mm (7.25 d)",
            origin="usual lay lengths, from memory",
        )
        return Window(words=words, shortest_mm=shortest, longest_mm=longest, step=step)

    def is_in_force(self, clause: Clause, rule_set: RuleSet) -> bool:
        """Whether a clause of a rule set is in force on the date."""
        day, both = self.as_of, (rule_set, clause)
        return all(one.in_force_from is None or day >= one.in_force_from for one in both) and all(
            one.in_force_to is None or day <= one.in_force_to for one in both
        )

    def clause_applies(self, when: When) -> Match:
        """Whether a clause's conditions hold; what is not known counts as holding."""
        return self._match(when, zone=None)

    def columns(
        self, columns: tuple[Column, ...], *, zone: str | None
    ) -> tuple[tuple[Column, ...], tuple[str, ...]]:
        """Columns that hold, or may hold, and what is not known."""
        possible: list[Column] = []
        unknown: list[str] = []
        for column in columns:
            match = self._match(column.when, zone=zone)
            if match.holds:
                possible.append(column)
                unknown.extend(match.unknown)
        return tuple(possible), tuple(dict.fromkeys(unknown))

    def _match(self, when: When, *, zone: str | None) -> Match:
        asked = (id(when), zone)
        known: Match | None = self.worked_out.get(asked)
        if known is None:
            known = self.worked_out[asked] = self._matched(when, zone)
        return known

    def _matched(self, when: When, zone: str | None) -> Match:
        unknown: list[str] = []
        over, up_to = when.diameter_over_mm, when.diameter_up_to_mm
        if over is not None and self.diameter_mm <= over:
            return Match(holds=False)
        if up_to is not None and self.diameter_mm > up_to:
            return Match(holds=False)
        for allowed, known, name in self._facts(when, zone):
            if not allowed:
                continue
            if known is None:
                unknown.append(name)
            elif known not in allowed:
                return Match(holds=False)
        return Match(holds=True, unknown=tuple(unknown))

    def _facts(
        self, when: When, zone: str | None
    ) -> tuple[tuple[tuple[object, ...], object, str], ...]:
        """What a condition allows, what is known, and what it is called."""
        construction, installation = self.rope.construction, self.dossier.installation
        rigging = self._rigging
        resistant = construction.rotation_resistant
        return (
            (_one(when.rotation_resistant), resistant, "rotation resistance"),
            (_one(when.lay_type), self.rope.lay_type, "ordinary or Lang lay"),
            (_one(when.use), installation.use, "running or standing rope"),
            (_one(when.persons_lifted), installation.persons_lifted, "whether persons are lifted"),
            (_one(when.zone), zone, "drum zone"),
            (_one(when.drum_layers), rigging.drum_layers, "drum layers"),
            (when.grooving, rigging.drum_grooving, "drum grooving"),
            (when.mechanism, installation.mechanism_class, "mechanism class"),
            (when.purposes, installation.purpose, "what the rope does"),
            (when.constructions, construction.name, "construction"),
            (when.core, construction.core, "core"),
        )

    def add(self, clause: Clause, *, status: Status, words: str, **rest: Any) -> Ruling:  # noqa: ANN401
        """Make the ruling of a clause, number it and keep it."""
        count = self._numbers[clause.clause_id] = self._numbers.get(clause.clause_id, 0) + 1
        said = self._said.get(clause.clause_id)
        if said is None:
            said = self._said[clause.clause_id] = self._clause_words(clause)
        ruling = Ruling(
            ruling_id=f"{self.rule_set.rule_set_id}/{clause.clause_id}/{count}",
            status=status,
            words=words,
            **said,
            **rest,
        )
        self.rulings.append(ruling)
        return ruling

    def _clause_words(self, clause: Clause) -> dict[str, Any]:
        """What every ruling of a clause says alike."""
        rules = self.rule_set
        return {
            "rule_set": rules.rule_set_id,
            "rule_title": rules.short,
            "edition": rules.edition,
            "clause_id": clause.clause_id,
            "clause": clause.clause,
            "title": clause.title,
            "provenance": clause.provenance,
            "clause_provenance": clause.clause_provenance,
            "source": self._sources[clause.source],
            "demand": clause.demand,
            "remedy": clause.remedy,
            "who": clause.who,
            "by_when": clause.by_when,
            "note": clause.note,
            "rules_hash": rules.rules_hash,
            "confirmed": confirmed_words(self.dossier.installation, rules, clause, self.as_of),
        }
