"""The carrier on its supports as ink: sunk and nodding from the side, leaning from the end, with all forces
on it.

Level it is drawn faintly, and as it stands with its sinking and turning drawn so many times as large, which
is written. Springs are zigzags as in ISO 2162-1. Seen from the end one looks at the deck edge from where the
ramp lies, so left is on the right.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby
from textwrap import wrap
from typing import Final, Literal

import numpy as np

from rampdraft.drawing.dimension import centre_mark, ring
from rampdraft.drawing.ground import ground_marks
from rampdraft.drawing.ink import Fill, Ink, Label, Path, Pen, Picture, area, line
from rampdraft.drawing.text import mm_text
from rampdraft.figures import fixed
from rampdraft.geometry.ground_line import GroundLine
from rampdraft.geometry.linkage import edge_height_mm, linkage
from rampdraft.geometry.outline import Outline, Point
from rampdraft.mechanics.carrier.results import (
    CannotStand,
    CarrierStanding,
    Climb,
    Stance,
    Standing,
    TippingLine,
    Weight,
)
from rampdraft.mechanics.carrier.standing import climbers, tipping_line, weights_of
from rampdraft.mechanics.loading.loads import axles_of
from rampdraft.model.design import Design, Support
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, N

PAPER_WIDTH_MM: Final = 240.0
FACTORS: Final = (1, 2, 5, 10, 20, 50, 100)
"""By which sinking is drawn larger; the largest that leaves room under the deck."""
_ROOM: Final = 0.45
"""Share of the room under the carrier that the drawn sinking may take."""
_WHEEL: Final = 0.33
"""Radius of a wheel drawn, of the room under the carrier: the design does not know it."""
_ARROW_MM: Final = 9.0
_HEAD_MM: Final = 2.0
_LINE_MM: Final = 4.0
"""On paper: length of a force arrow, of its head, and from one line of words to the next."""
_LETTER_MM: Final = 1.75
_MEAN_MM: Final = 1.55
"""Mean width of a letter in a sentence; that of a name is taken as wider, so that names never meet."""
_FEWEST: Final = 30
"""Letters in a line of words over the picture, at least."""
_WORDS_PT: Final = 8.0
_TURNS: Final = 7
"""Half turns of a spring."""

View = Literal["side", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scene:
    """What is drawn: along is -back seen from the side, across seen from the end."""

    design: Design
    supports: tuple[Support, ...]
    view: View
    per_mm: MM
    factor: int
    sunk: Callable[[MM], MM]
    """How far the body has sunk at a place along the picture, true size."""
    wheels_n: tuple[N, ...] | None
    """None where it tips or cannot stand."""

    @property
    def top_mm(self) -> MM:
        return edge_height_mm(self.design)

    @property
    def floor_mm(self) -> MM:
        """Height of the deck's underside."""
        return self.top_mm - self.design.carrier.deck_thickness_mm

    @property
    def under_mm(self) -> MM:
        """Height of the carrier's underside, not drawn lower than half way down."""
        return min(self.floor_mm, max(self.top_mm - self.design.carrier.end_depth_mm, self.top_mm / 2))

    def moved(self, x: MM, z: MM) -> Point:
        """Return a point of the body as it stands, its sinking drawn larger."""
        return x, z - self.factor * self.sunk(x)

    def place(self, support: Support) -> MM:
        """Return where a support stands in the picture."""
        return -support.back_mm if self.view == "side" else support.across_mm

    def span(self) -> tuple[MM, MM]:
        """Return from where to where the deck runs."""
        carrier = self.design.carrier
        half = carrier.opening_width_mm / 2
        return (-carrier.deck_length_mm, 0.0) if self.view == "side" else (-half, half)


def carrier_side(
    design: Design, standing: CarrierStanding, climb: Climb | None = None, *, per_mm: MM | None = None
) -> Picture:
    """Return the carrier from the side with a user where that tips it or leaves least on a support; None
    takes the worst of all.

    `per_mm`: see `dimension`; None is the scale of a sheet `PAPER_WIDTH_MM` wide.
    """
    if isinstance(standing, CannotStand):
        return _unsteady(design, standing, "side", per_mm)
    climb = climb or standing.worst_climb
    return _picture(design, standing, climb, climb.worst, "side", per_mm)


def carrier_end(
    design: Design, standing: CarrierStanding, climb: Climb | None = None, *, per_mm: MM | None = None
) -> Picture:
    """Return the carrier from the end with a user where it leans most, or tips; None takes the worst of
    all.
    """
    if isinstance(standing, CannotStand):
        return _unsteady(design, standing, "end", per_mm)
    shown = climb or standing.worst_climb
    if shown.tips:
        return _picture(design, standing, shown, shown.worst, "end", per_mm)
    shown, at = (climb, greatest_at(np.abs(climb.stances.lean_rad))[0]) if climb else standing.most_lean
    return _picture(design, standing, shown, at, "end", per_mm)


def _picture(
    design: Design, standing: Standing, climb: Climb, at: int, view: View, per_mm: MM | None
) -> Picture:
    stance = climb.stance(at)
    user = weights_of(design, climb, at)
    x0, x1 = _reach(design, view)
    scene = _scene(design, view, per_mm or (x1 - x0) / PAPER_WIDTH_MM, stance)
    still = (*standing.weights, *((standing.cargo,) if climb.cargo and standing.cargo else ()))
    weights = tuple(weight for weight in still if weight.kind in ("body", "ballast", "cargo"))
    marks = [
        *_ghost(scene),
        *(mark for number, support in enumerate(scene.supports) for mark in _support(scene, number, support)),
        *_body(scene),
        *_user(scene, climb, at, user),
        *(mark for weight in weights for mark in _weight(scene, weight)),
        *_reactions(scene),
    ]
    if stance is None:
        marks.extend(_fulcrum(scene, tipping_line(standing, user, cargo=climb.cargo)))
    words = _words(scene, standing, climb, at, stance)
    return _framed(scene, marks, words, (x0, x1))


def _unsteady(design: Design, found: CannotStand, view: View, per_mm: MM | None) -> Picture:
    """Return the carrier level on what is described, with the reason why it cannot stand."""
    x0, x1 = _reach(design, view)
    scene = _scene(design, view, per_mm or (x1 - x0) / PAPER_WIDTH_MM, None)
    supports = (
        mark for number, support in enumerate(scene.supports) for mark in _support(scene, number, support)
    )
    marks = [*supports, *_body(scene), *_reactions(scene)]
    words = ("Cannot stand: " + found.why, f"Way out: {found.way_out}")
    return _framed(scene, marks, words, (x0, x1))


def _framed(scene: _Scene, marks: list[Ink], words: tuple[str, ...], reach: tuple[MM, MM]) -> Picture:
    per_mm, (x0, x1) = scene.per_mm, reach
    ground = ground_marks(GroundLine(((x0, 0.0), (x1, 0.0))), x0, x1, per_mm)
    high = scene.top_mm + (_ARROW_MM + 3.5 * _LINE_MM) * per_mm
    letters = max(_FEWEST, int((x1 - x0) / (_MEAN_MM * per_mm)))
    words = tuple(row for text in words for row in wrap(text, letters))
    lines = tuple(
        Label(
            text=text,
            at=(x0 + 2 * per_mm, high + (len(words) - 1 - number) * _LINE_MM * per_mm),
            size_pt=_WORDS_PT,
        )
        for number, text in enumerate(words)
    )
    rows = max((down + len(names) for (_, _, down), names in _staggered(scene)), default=0)
    low = -(_ARROW_MM + (rows + 0.7) * _LINE_MM) * per_mm
    title = f"Carrier from the {scene.view}"
    box = (x0, low, x1, high + len(words) * _LINE_MM * per_mm)
    return Picture(marks=(*ground, *marks, *lines), box=box, title=title)


def _reach(design: Design, view: View) -> tuple[MM, MM]:
    """Return from where to where the picture runs."""
    carrier = design.carrier
    if view == "side":
        places = [-support.back_mm for support in design.supports]
        ramp = design.deck_hinge.out_mm + _ramp_run_mm(design)
        low, high = min(-carrier.deck_length_mm, *places), max(ramp, *places)
    else:
        places = [support.across_mm for support in design.supports]
        half = carrier.opening_width_mm / 2
        low, high = min(-half, *places), max(half, *places)
    margin = 0.06 * (high - low) if view == "side" else 0.4 * (high - low)
    return low - margin, high + margin


def _ramp_run_mm(design: Design) -> MM:
    rise = linkage(design).hinge[1]
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return math.sqrt(max(length**2 - rise**2, 0.0))


def _scene(design: Design, view: View, per_mm: MM, stance: Stance | None) -> _Scene:
    drop, nod, lean = (stance.edge_drop_mm, stance.nod_rad, stance.lean_rad) if stance else (0.0, 0.0, 0.0)
    turn = nod if view == "side" else lean

    def sunk(x: MM) -> MM:
        return drop + turn * x

    scene = _Scene(
        design=design, supports=design.supports, view=view, per_mm=per_mm, factor=1, sunk=sunk,
        wheels_n=stance.wheels_n if stance else None,
    )  # fmt: skip
    if stance is None:
        return scene
    most = max(abs(sunk(x)) for x in (*scene.span(), *(scene.place(support) for support in design.supports)))
    fitting = [factor for factor in FACTORS if factor * most <= _ROOM * scene.under_mm]
    return _Scene(
        design=design,
        supports=design.supports,
        view=view,
        per_mm=per_mm,
        factor=max(fitting, default=1),
        sunk=sunk,
        wheels_n=stance.wheels_n,
    )


def _outlines(scene: _Scene) -> Iterator[tuple[tuple[Point, ...], str]]:
    """Yield the level body in parts: what hangs below the deck, a drawbar to supports beyond it, and the
    deck.
    """
    carrier = scene.design.carrier
    x0, x1 = scene.span()
    setback = carrier.end_setback_mm if scene.view == "side" else 0.0
    yield _box(x0, scene.under_mm, x1 - setback, scene.floor_mm), "carrier.end_depth_mm"
    beam = scene.under_mm + (scene.floor_mm - scene.under_mm) / 3
    for support in scene.supports:
        at = scene.place(support)
        if at < x0:
            yield _box(at, scene.under_mm, x0, beam), "carrier.end_depth_mm"
        elif at > x1 - setback:
            yield _box(x1 - setback, scene.under_mm, at, beam), "carrier.end_depth_mm"
    yield _box(x0, scene.floor_mm, x1, scene.top_mm), "carrier.deck_height_mm"


def _box(x0: MM, z0: MM, x1: MM, z1: MM) -> tuple[Point, ...]:
    return (x0, z0), (x1, z0), (x1, z1), (x0, z1)


def _ghost(scene: _Scene) -> Iterator[Ink]:
    for points, _ in _outlines(scene):
        yield _polygon(points, "ghost", "none")


def _body(scene: _Scene) -> Iterator[Ink]:
    for points, owner in _outlines(scene):
        yield _polygon(tuple(scene.moved(*point) for point in points), "outline", "carrier", owner)


def _polygon(points: tuple[Point, ...], pen: Pen, fill: Fill, owner: str = "") -> Path:
    return area(Outline(tuple((x, z, 0.0) for x, z in points)), pen, fill, owner)


def _support(scene: _Scene, number: int, support: Support) -> Iterator[Ink]:
    at, owner = scene.place(support), f"supports[{number + 1}]"
    top = scene.moved(at, scene.under_mm)
    if support.kind == "spring":
        radius = _WHEEL * scene.under_mm
        lift = _lift_mm(scene, support)
        hub = (at, radius + lift)
        if scene.view == "side":
            yield Path(
                vertices=((at - radius, hub[1], 1.0), (at + radius, hub[1], 1.0)),
                closed=True,
                pen="thin",
                fill="paper",
                owner=owner,
            )
        else:
            yield _polygon(
                _box(at - radius / 3, lift, at + radius / 3, lift + 2 * radius), "thin", "paper", owner
            )
        yield ring(hub, 0.6 * scene.per_mm)
        yield _zigzag(hub, top, min(0.35 * radius, 2.2 * scene.per_mm), owner)
        return
    half = 1.2 * scene.per_mm
    gap = scene.factor * support.gap_mm
    stand = min(scene.under_mm - gap, top[1])
    yield _polygon(
        _box(at - half, 0.0, at + half, stand),
        "thin",
        "inner" if support.kind == "bearer" else "outer",
        owner,
    )
    if support.kind == "jack":
        yield _polygon(_box(at - 2.5 * half, 0.0, at + 2.5 * half, half), "thin", "outer", owner)


def _lift_mm(scene: _Scene, support: Support) -> MM:
    """Return how far a hanging wheel is off the ground, drawn larger."""
    return scene.factor * max(0.0, -scene.sunk(scene.place(support)) - support.extension_mm)


def _zigzag(low: Point, high: Point, half: MM, owner: str) -> Path:
    """Return a spring: straight ends, and half turns between them."""
    (x, z0), (_, z1) = low, high
    start, end = z0 + 0.15 * (z1 - z0), z1 - 0.15 * (z1 - z0)
    step = (end - start) / _TURNS
    turns = (
        (x + (half if turn % 2 == 0 else -half), start + (turn + 0.5) * step, 0.0) for turn in range(_TURNS)
    )
    vertices = ((x, z0, 0.0), (x, start, 0.0), *turns, (x, end, 0.0), (x, z1, 0.0))
    return Path(vertices=vertices, closed=False, pen="outline", owner=owner)


def _user(scene: _Scene, climb: Climb, at: int, weights: tuple[Weight, ...]) -> Iterator[Ink]:
    """Yield the user's axles where they stand, with their forces; from the side also the ramp."""
    design = scene.design
    axles = axles_of(climbers(design)[climb.user_number - 1])
    if scene.view == "end":
        half = max(axle.track_mm for axle in axles) / 2
        for y in sorted({climb.across_mm - half, climb.across_mm + half}):
            x, z = scene.moved(y, scene.top_mm)
            wheel = (x - 0.8 * scene.per_mm, z), (x + 0.8 * scene.per_mm, z + 6 * scene.per_mm)
            yield _polygon(
                _box(*wheel[0], *wheel[1]), "thin", "paper", f"use.users[{climb.user_number}].mass_kg"
            )
        total = sum(weight.force_n for weight in weights)
        x, z = scene.moved(climb.across_mm, scene.top_mm)
        yield from _force((x, z + 6 * scene.per_mm), f"on the deck {_newton(total)}", scene.per_mm)
        return
    hinge = scene.moved(design.deck_hinge.out_mm, scene.top_mm)
    toe = (design.deck_hinge.out_mm + _ramp_run_mm(design), 0.0)
    surface = (scene.moved(0.0, scene.top_mm), hinge, toe)
    yield Path(
        vertices=tuple((*point, 0.0) for point in surface),
        closed=False,
        pen="outline",
        owner="inner_leaf.length_mm",
    )
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    labels: list[tuple[Point, str]] = []
    for axle in axles:
        along = float(climb.first_axle_mm[at]) + axle.offset_mm
        x, z = (
            _on_ramp(hinge, toe, along / length) if along > 0 else scene.moved(hinge[0] + along, scene.top_mm)
        )
        radius = (2.5 if axle.track_mm else 1.2) * scene.per_mm
        yield Path(
            vertices=((x - radius, z + radius, 1.0), (x + radius, z + radius, 1.0)),
            closed=True,
            pen="thin",
            fill="paper",
            owner=f"use.users[{climb.user_number}].mass_kg",
        )
        tail = z + 5 * scene.per_mm + 0.7 * _ARROW_MM * scene.per_mm
        yield from _arrow((x, z + 2 * radius), (x, tail), "accent", scene.per_mm)
        labels.append(((x, tail + scene.per_mm), _newton(axle.force_n)))
    yield from _above(labels, scene.per_mm)


def _on_ramp(hinge: Point, toe: Point, part: float) -> Point:
    return hinge[0] + part * (toe[0] - hinge[0]), hinge[1] + part * (toe[1] - hinge[1])


def _weight(scene: _Scene, weight: Weight) -> Iterator[Ink]:
    """Yield what stands still, as an arrow down from its centre, drawn within the body."""
    at = weight.x_mm if scene.view == "side" else weight.y_mm
    middle = scene.moved(at, (scene.under_mm + scene.floor_mm) / 2)
    yield from centre_mark(middle, 2.0 * scene.per_mm)
    yield from _arrow((middle[0], middle[1] - _ARROW_MM * scene.per_mm), middle, "accent", scene.per_mm)
    text = f"{weight.words} {_newton(weight.force_n)}"
    yield Label(text=text, at=(middle[0] + 2.5 * scene.per_mm, middle[1]), size_pt=_WORDS_PT, boxed=True)


def _groups(scene: _Scene) -> list[tuple[MM, tuple[str, ...]]]:
    """Return the supports that stand one behind the other in this view, with their names and forces."""
    numbered = sorted(enumerate(scene.supports), key=lambda pair: (round(scene.place(pair[1]), 1), pair[0]))
    found: list[tuple[MM, tuple[str, ...]]] = []
    for place, group in groupby(numbered, key=lambda pair: round(scene.place(pair[1]), 1)):
        names = tuple(
            f"{support.name} {_newton(scene.wheels_n[number])}" if scene.wheels_n else support.name
            for number, support in group
        )
        found.append((place, names))
    return found


def _reactions(scene: _Scene) -> Iterator[Ink]:
    """Yield what each support presses on the ground, as an arrow up with its figure."""
    for (x, middle, down), names in _staggered(scene):
        foot = -(_ARROW_MM + down * _LINE_MM) * scene.per_mm
        if _pressed(scene, x):
            yield from _arrow((x, 0.0), (x, foot), "accent", scene.per_mm)
        for number, text in enumerate(names):
            z = foot - (number + 1) * _LINE_MM * scene.per_mm
            yield Label(text=text, at=(middle, z), anchor="centre", size_pt=_WORDS_PT)


def _pressed(scene: _Scene, place: MM) -> bool:
    """Return whether a support at a place presses on the ground, as far as it is known."""
    return scene.wheels_n is not None and any(
        force > 0.5
        for support, force in zip(scene.supports, scene.wheels_n, strict=True)
        if abs(scene.place(support) - place) < 0.1
    )


def _staggered(scene: _Scene) -> Iterator[tuple[tuple[MM, MM, int], tuple[str, ...]]]:
    """Yield each group with the middle of its words, kept within the picture, and how many lines further down
    they stand.

    So none run into others.
    """
    low, high = _reach(scene.design, scene.view)
    ends: dict[int, MM] = {}
    """How far each line of words is taken."""
    for x, names in _groups(scene):
        half = (max(map(len, names)) + 1) * _LETTER_MM * scene.per_mm / 2
        middle = max(min(x, high - half), low + half)
        down = 0
        while any(ends.get(row, -math.inf) > middle - half for row in range(down, down + len(names))):
            down += 1
        ends.update(dict.fromkeys(range(down, down + len(names)), middle + half))
        yield (x, middle, down), names


def _above(labels: list[tuple[Point, str]], per_mm: MM) -> Iterator[Ink]:
    """Yield figures above their arrows, a line further up where they would meet the one before."""
    end, free = -math.inf, -math.inf
    for (x, z), text in sorted(labels):
        half = len(text) * _LETTER_MM * per_mm / 2
        at = max(z, free) if x - half < end else z
        end, free = x + half, at + _LINE_MM * per_mm
        yield Label(text=text, at=(x, at), anchor="centre", size_pt=_WORDS_PT, pen="accent")


def _fulcrum(scene: _Scene, found: TippingLine) -> Iterator[Ink]:
    """Yield a hatched wedge under the supports that it tips over."""
    high = 3.5 * scene.per_mm
    for x in sorted({scene.place(scene.supports[number]) for number in found.supports}):
        yield _polygon(((x - high / 2, -high), (x + high / 2, -high), (x, 0.0)), "clash", "clash")


def _force(tip: Point, text: str, per_mm: MM) -> Iterator[Ink]:
    """Yield an arrow down onto a place, with words beside its tail."""
    x, z = tip
    tail = (x, z + _ARROW_MM * per_mm)
    yield from _arrow(tip, tail, "accent", per_mm)
    yield Label(text=text, at=(x + 1.5 * per_mm, tail[1] - 2 * per_mm), pen="accent", size_pt=_WORDS_PT)


def _arrow(tip: Point, tail: Point, pen: Pen, per_mm: MM) -> Iterator[Ink]:
    """Yield an upright arrow."""
    back = math.copysign(_HEAD_MM * per_mm, tail[1] - tip[1])
    half = _HEAD_MM * per_mm * math.tan(math.radians(15))
    yield line(tail, tip, pen)
    yield Path(
        vertices=((tip[0] - half, tip[1] + back, 0.0), (*tip, 0.0), (tip[0] + half, tip[1] + back, 0.0)),
        closed=False,
        pen=pen,
    )


def _words(
    scene: _Scene, standing: Standing, climb: Climb, at: int, stance: Stance | None
) -> tuple[str, ...]:
    if stance is None:
        found = tipping_line(standing, weights_of(scene.design, climb, at), cargo=climb.cargo)
        over, holds = (
            fixed(moment / 1000, 0, "N m") for moment in (found.overturning_nmm, found.righting_nmm)
        )
        return (
            climb.words,
            f"tips over the line through {found.names[0]} and {found.names[1]}: {over} against {holds}",
        )
    turn, degrees = ("nod", stance.nod_rad) if scene.view == "side" else ("lean", stance.lean_rad)
    turned = fixed(abs(math.degrees(degrees)), 2, "°")
    down = f"deck edge {mm_text(stance.edge_drop_mm)} mm lower, {turn} {turned}"
    least = f"least left: {fixed(100 * stance.share, 0, '%')} on {scene.supports[stance.least].name}"
    drawn = f"; sinking drawn {scene.factor} times" if scene.factor > 1 else ""
    return climb.words, f"{down}{drawn}", least


def _newton(force: N) -> str:
    return fixed(force, 0, "N")
