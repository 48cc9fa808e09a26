"""The user, the weights and what the supports press on the ground, as ink."""

import math
from collections.abc import Iterator
from itertools import groupby
from typing import Final

from rampdraft.drawing.carrier_scene import Scene, box_of, ramp_run_mm, reach_mm
from rampdraft.drawing.dimension import centre_mark
from rampdraft.drawing.ink import Ink, Label, line, polygon, polyline, ring
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.carrier.results import (
    Climb,
    TippingLine,
    Weight,
)
from rampdraft.mechanics.carrier.standing import axles_at, climbers
from rampdraft.mechanics.loading.loads import axles_of
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

ARROW_MM: Final = 9.0
_HEAD_MM: Final = 2.0
LINE_MM: Final = 4.0
"""On paper: length of a force arrow, of its head, and from one line of words to the next."""
_LETTER_MM: Final = 1.75
WORDS_PT: Final = 8.0


def user_marks(scene: Scene, climb: Climb, at: int, weights: tuple[Weight, ...]) -> Iterator[Ink]:
    """Yield the user's axles where they stand, with their forces; from the side also the ramp."""
    design = scene.design
    axles = axles_of(climbers(design)[climb.user_number - 1])
    owner = f"use.users[{climb.user_number}].mass_kg"
    if scene.view == "end":
        half = max(axle.track_mm for axle in axles) / 2
        for y in sorted({climb.across_mm - half, climb.across_mm + half}):
            x, z = scene.moved(y, scene.top_mm)
            wheel = box_of(x - 0.8 * scene.per_mm, z, x + 0.8 * scene.per_mm, z + 6 * scene.per_mm)
            yield polygon(wheel, "thin", "paper", owner)
        x, z = scene.moved(climb.across_mm, scene.top_mm)
        tip = (x, z + 6 * scene.per_mm)
        tail = (x, tip[1] + ARROW_MM * scene.per_mm)
        yield from _arrow(tip, tail, scene.per_mm)
        total = say("on the deck {force}", force=fixed(sum(weight.force_n for weight in weights), 0, "N"))
        beside = (x + 1.5 * scene.per_mm, tail[1] - 2 * scene.per_mm)
        yield Label(text=total, at=beside, pen="accent", size_pt=WORDS_PT)
        return
    hinge = scene.moved(design.deck_hinge.out_mm, scene.top_mm)
    toe = (design.deck_hinge.out_mm + ramp_run_mm(design), 0.0)
    yield polyline((scene.moved(0.0, scene.top_mm), hinge, toe), "outline", "inner_leaf.length_mm")
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    labels: list[tuple[Point, str]] = []
    forces, places = axles_at(design, climb, at)
    forwards = bool(climb.forwards[at])
    for axle, force, along in zip(
        axles if forwards else axles[::-1], forces.tolist(), places.tolist(), strict=True
    ):
        part = along / length
        x, z = (
            (hinge[0] + part * (toe[0] - hinge[0]), hinge[1] + part * (toe[1] - hinge[1]))
            if along > 0
            else scene.moved(hinge[0] + along, scene.top_mm)
        )
        radius = (2.5 if axle.track_mm else 1.2) * scene.per_mm
        yield ring((x, z + radius), radius, pen="thin", owner=owner)
        tail = z + 5 * scene.per_mm + 0.7 * ARROW_MM * scene.per_mm
        yield from _arrow((x, z + 2 * radius), (x, tail), scene.per_mm)
        labels.append(((x, tail + scene.per_mm), fixed(force, 0, "N")))
    yield from _above(labels, scene.per_mm)


def weight_marks(scene: Scene, weight: Weight) -> Iterator[Ink]:
    """Yield what stands still, as an arrow down from its centre, drawn within the body."""
    at = weight.x_mm if scene.view == "side" else weight.y_mm
    middle = scene.moved(at, (scene.under_mm + scene.floor_mm) / 2)
    yield from centre_mark(middle, 2.0 * scene.per_mm)
    yield from _arrow((middle[0], middle[1] - ARROW_MM * scene.per_mm), middle, scene.per_mm)
    text = f"{weight.words} {fixed(weight.force_n, 0, 'N')}"
    yield Label(text=text, at=(middle[0] + 2.5 * scene.per_mm, middle[1]), size_pt=WORDS_PT, boxed=True)


def _groups(scene: Scene) -> list[tuple[MM, tuple[str, ...]]]:
    """Return the supports that stand one behind the other in this view, with their names and forces."""
    numbered = sorted(
        enumerate(scene.design.supports), key=lambda pair: (round(scene.place(pair[1]), 1), pair[0])
    )
    return [
        (
            place,
            tuple(
                f"{support.name} {fixed(scene.wheels_n[number], 0, 'N')}" if scene.wheels_n else support.name
                for number, support in group
            ),
        )
        for place, group in groupby(numbered, key=lambda pair: round(scene.place(pair[1]), 1))
    ]


def reactions(scene: Scene) -> Iterator[Ink]:
    """Yield what each support presses on the ground, as an arrow up with its figure."""
    for (x, middle, down), names in staggered(scene):
        foot = -(ARROW_MM + down * LINE_MM) * scene.per_mm
        if _pressed(scene, x):
            yield from _arrow((x, 0.0), (x, foot), scene.per_mm)
        for number, text in enumerate(names):
            z = foot - (number + 1) * LINE_MM * scene.per_mm
            yield Label(text=text, at=(middle, z), anchor="centre", size_pt=WORDS_PT)


def _pressed(scene: Scene, place: MM) -> bool:
    """Return whether a support at a place presses on the ground, as far as it is known."""
    return scene.wheels_n is not None and any(
        force > 0.5
        for support, force in zip(scene.design.supports, scene.wheels_n, strict=True)
        if abs(scene.place(support) - place) < 0.1
    )


def staggered(scene: Scene) -> Iterator[tuple[tuple[MM, MM, int], tuple[str, ...]]]:
    """Yield each group with the middle of its words, kept within the picture, and how many lines further down
    they stand.

    So none run into others.
    """
    low, high = reach_mm(scene.design, scene.view)
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
        end, free = x + half, at + LINE_MM * per_mm
        yield Label(text=text, at=(x, at), anchor="centre", size_pt=WORDS_PT, pen="accent")


def fulcrum(scene: Scene, found: TippingLine) -> Iterator[Ink]:
    """Yield a hatched wedge under the supports that it tips over."""
    high = 3.5 * scene.per_mm
    for x in sorted({scene.place(scene.design.supports[number]) for number in found.supports}):
        yield polygon(((x - high / 2, -high), (x + high / 2, -high), (x, 0.0)), "clash", "clash")


def _arrow(tip: Point, tail: Point, per_mm: MM) -> tuple[Ink, Ink]:
    """Return an upright arrow."""
    back = math.copysign(_HEAD_MM * per_mm, tail[1] - tip[1])
    half = _HEAD_MM * per_mm * math.tan(math.radians(15))
    head = ((tip[0] - half, tip[1] + back), tip, (tip[0] + half, tip[1] + back))
    return line(tail, tip, "accent"), polyline(head, "accent")
