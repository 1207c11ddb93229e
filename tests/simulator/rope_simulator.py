"""A slow and obvious rope: a taut string drawn through wheels in a plane, as a chain of points.

Nothing here is taken from the tool; lengths are the sums of tiny straight pieces, tangents are
found by sliding touching points until the rope is straight, the drum is wound turn by turn.
"""

import math
from dataclasses import dataclass, field

Xy = tuple[float, float]

ARC_STEP_RAD = math.radians(0.5)
STRAIGHT_STEP_M = 5.0


@dataclass
class Wheel:
    """A sheave, or a mere fastening if its radius is zero; sense 1 turns the rope left."""

    name: str
    centre: Xy
    radius: float = 0.0
    sense: int = 1


@dataclass
class Chain:
    """The rope from end A to the drum as points; each knows how much rope lies before it."""

    points: list[Xy] = field(default_factory=list)
    metres: list[float] = field(default_factory=list)
    on: list[str] = field(default_factory=list)  # name of the wheel, or of the run

    def add(self, point: Xy, on: str) -> None:
        step = math.dist(self.points[-1], point) if self.points else 0.0
        self.metres.append((self.metres[-1] if self.metres else 0.0) + step)
        self.points.append(point)
        self.on.append(on)

    @property
    def length(self) -> float:
        return self.metres[-1]

    def borders(self, wheel: str) -> tuple[float, float]:
        """Return where along the rope a wheel begins and ends to touch it."""
        inside = [m for m, on in zip(self.metres, self.on, strict=True) if on == wheel]
        return min(inside), max(inside)

    def at(self, metres: float) -> Xy:
        """Return where in space a point of the rope is."""
        for number in range(1, len(self.metres)):
            if self.metres[number] >= metres:
                before, after = self.metres[number - 1], self.metres[number]
                share = (metres - before) / (after - before) if after > before else 0.0
                (x0, y0), (x1, y1) = self.points[number - 1], self.points[number]
                return x0 + share * (x1 - x0), y0 + share * (y1 - y0)
        raise ValueError("this point of the rope is on the drum")

    def in_front_of(self, person: Xy, run: str) -> float:
        """Return which point of the rope is in front of a person standing at a run of it."""
        if run == "last":
            run = self.on[-1]
        best = (math.inf, 0.0)
        for number in range(1, len(self.points)):
            if self.on[number] != run:
                continue
            (x0, y0), (x1, y1) = self.points[number - 1], self.points[number]
            length = math.dist(self.points[number - 1], self.points[number])
            if length == 0:
                continue
            along = ((person[0] - x0) * (x1 - x0) + (person[1] - y0) * (y1 - y0)) / length
            along = min(max(along, 0.0), length)
            foot = (x0 + along * (x1 - x0) / length, y0 + along * (y1 - y0) / length)
            off = math.dist(person, foot)
            if off < best[0]:
                best = (off, self.metres[number - 1] + along)
        assert best[0] < 1e-6, f"the person is {best[0]} m away from the run {run}"
        return best[1]


def _touching(wheel: Wheel, direction: float) -> Xy:
    """Return where a rope running in a direction touches a wheel."""
    # A wheel that turns the rope left has the rope on its right-hand side.
    side = direction - wheel.sense * math.pi / 2
    return (
        wheel.centre[0] + wheel.radius * math.cos(side),
        wheel.centre[1] + wheel.radius * math.sin(side),
    )


def _direction_between(first: Wheel, second: Wheel) -> float:
    """Slide the touching points along both wheels until the rope between them is straight."""
    (x0, y0), (x1, y1) = first.centre, second.centre
    direction = math.atan2(y1 - y0, x1 - x0)
    for _ in range(200):
        leave, meet = _touching(first, direction), _touching(second, direction)
        if math.dist(leave, meet) < 1e-12:
            return direction
        better = math.atan2(meet[1] - leave[1], meet[0] - leave[0])
        if abs(math.remainder(better - direction, 2 * math.pi)) < 1e-15:
            break
        direction = better
    return direction


def draw(
    wheels: list[Wheel],
    *,
    directions: dict[int, float] | None = None,
    last_run: float = 0.0,
    last_direction: float | None = None,
    coarse: float = 1.0,
) -> Chain:
    """Draw the rope from the first wheel (a fastening) round the others.

    `directions` fixes the direction of a run that has no length or whose wheels share an axis
    seen from the side; `last_direction` and `last_run` say where the rope goes after the last
    wheel.
    """
    directions = directions or {}
    runs = [
        directions[number]
        if number in directions
        else _direction_between(wheels[number], wheels[number + 1])
        for number in range(len(wheels) - 1)
    ]
    chain = Chain()
    chain.add(_touching(wheels[0], runs[0]), wheels[0].name)
    for number, run in enumerate(runs):
        leave, meet = _touching(wheels[number], run), _touching(wheels[number + 1], run)
        _straight(chain, leave, meet, f"run {number}", coarse)
        out = runs[number + 1] if number + 1 < len(runs) else last_direction
        if out is None:
            break
        _round(chain, wheels[number + 1], run, out, coarse)
    if last_run:
        x, y = chain.points[-1]
        assert last_direction is not None
        far = (x + last_run * math.cos(last_direction), y + last_run * math.sin(last_direction))
        _straight(chain, (x, y), far, f"run {len(runs)}", coarse)
    return chain


def _straight(chain: Chain, leave: Xy, meet: Xy, run: str, coarse: float) -> None:
    length = math.dist(leave, meet)
    steps = max(1, math.ceil(length / (STRAIGHT_STEP_M * coarse)))
    for step in range(steps + 1):
        share = step / steps
        point = (
            leave[0] + share * (meet[0] - leave[0]),
            leave[1] + share * (meet[1] - leave[1]),
        )
        chain.add(point, run)


def _round(chain: Chain, wheel: Wheel, run_in: float, run_out: float, coarse: float) -> None:
    sweep = ((run_out - run_in) * wheel.sense) % (2 * math.pi)
    if sweep > 2 * math.pi - 1e-9:
        sweep = 0.0
    steps = max(1, math.ceil(sweep / (ARC_STEP_RAD * coarse)))
    for step in range(steps + 1):
        turned = run_in + wheel.sense * sweep * step / steps
        chain.add(_touching(wheel, turned), wheel.name)


# --- The drum -----------------------------------------------------------------------------------


@dataclass
class Winding:
    """A drum as wound: diameters in metres, wraps of each layer in halves or whole turns."""

    barrel: float
    rope: float
    rise: float
    wraps: list[float]

    def turn(self, layer: int) -> float:
        """Walk once round the drum on a layer, counted from 0, in 20 000 small steps."""
        radius = (self.barrel + self.rope) / 2 + layer * self.rise
        step = math.dist(
            (radius, 0.0),
            (radius * math.cos(math.tau / 20_000), radius * math.sin(math.tau / 20_000)),
        )
        return step * 20_000

    def place(self, metres: float) -> tuple[int, int, float]:
        """Wind on so much rope, half a turn at a time: layer, wrap, part of turn."""
        left, halves = metres, 0
        for layer, wraps in enumerate(self.wraps):
            half = self.turn(layer) / 2
            first = halves
            for count in range(round(2 * wraps)):
                if left < half:
                    turned = (halves / 2 + left / (2 * half)) % 1.0
                    return layer + 1, count // 2 + 1, turned
                left -= half
                halves += 1
            assert halves - first == round(2 * wraps)
        raise ValueError("the drum is full")
