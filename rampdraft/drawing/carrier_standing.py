"""The carrier on its supports as ink: sunk and nodding from the side, leaning from the end, with all forces
on it.

Level it is drawn faintly, and as it stands with its sinking and turning drawn so many times as large, which
is written. Springs are zigzags as in ISO 2162-1. Seen from the end one looks at the deck edge from where the
ramp lies, so left is on the right.
"""

import math
from textwrap import wrap
from typing import Final

import numpy as np

from rampdraft.drawing.carrier_forces import (
    ARROW_MM,
    LINE_MM,
    WORDS_PT,
    fulcrum,
    reactions,
    staggered,
    user_marks,
    weight_marks,
)
from rampdraft.drawing.carrier_scene import (
    PAPER_WIDTH_MM,
    Scene,
    View,
    body,
    ghost,
    reach_mm,
    scene_of,
    supports,
)
from rampdraft.drawing.ink import Ink, Label, Picture
from rampdraft.drawing.surroundings import ground_marks
from rampdraft.geometry.ground_line import GroundLine
from rampdraft.mechanics.carrier.results import (
    CannotStand,
    CarrierStanding,
    Climb,
    Stance,
    Standing,
)
from rampdraft.mechanics.carrier.standing import tipping_line, weights_of
from rampdraft.model.design import Design
from rampdraft.rounding import greatest_at
from rampdraft.units import MM
from rampdraft.words.figures import fixed, mm
from rampdraft.words.say import say

_MEAN_MM: Final = 1.55
"""Mean width of a letter in a sentence; that of a name is taken as wider, so that names never meet."""
_FEWEST: Final = 30
"""Letters in a line of words over the picture, at least."""


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
    scene = _scene(design, view, per_mm, stance)
    still = (*standing.weights, *((standing.cargo,) if climb.cargo and standing.cargo else ()))
    weights = tuple(weight for weight in still if weight.kind in ("body", "ballast", "cargo"))
    marks = [
        *ghost(scene),
        *supports(scene),
        *body(scene),
        *user_marks(scene, climb, at, user),
        *(mark for weight in weights for mark in weight_marks(scene, weight)),
        *reactions(scene),
    ]
    if stance is None:
        marks.extend(fulcrum(scene, tipping_line(standing, user, cargo=climb.cargo)))
    return _framed(scene, marks, _words(scene, standing, climb, at, stance))


def _unsteady(design: Design, found: CannotStand, view: View, per_mm: MM | None) -> Picture:
    """Return the carrier level on what is described, with the reason why it cannot stand."""
    scene = _scene(design, view, per_mm, None)
    marks = [*supports(scene), *body(scene), *reactions(scene)]
    return _framed(
        scene,
        marks,
        (say("Cannot stand: {why}", why=found.why), say("Way out: {way_out}", way_out=found.way_out)),
    )


def _scene(design: Design, view: View, per_mm: MM | None, stance: Stance | None) -> Scene:
    x0, x1 = reach_mm(design, view)
    return scene_of(design, view, per_mm or (x1 - x0) / PAPER_WIDTH_MM, stance)


def _framed(scene: Scene, marks: list[Ink], words: tuple[str, ...]) -> Picture:
    per_mm, (x0, x1) = scene.per_mm, reach_mm(scene.design, scene.view)
    ground = ground_marks(GroundLine(((x0, 0.0), (x1, 0.0))), x0, x1, per_mm)
    high = scene.top_mm + (ARROW_MM + 3.5 * LINE_MM) * per_mm
    letters = max(_FEWEST, int((x1 - x0) / (_MEAN_MM * per_mm)))
    words = tuple(row for text in words for row in wrap(text, letters))
    lines = tuple(
        Label(
            text=text,
            at=(x0 + 2 * per_mm, high + (len(words) - 1 - number) * LINE_MM * per_mm),
            size_pt=WORDS_PT,
        )
        for number, text in enumerate(words)
    )
    rows = max((down + len(names) for (_, _, down), names in staggered(scene)), default=0)
    low = -(ARROW_MM + (rows + 0.7) * LINE_MM) * per_mm
    box = (x0, low, x1, high + len(words) * LINE_MM * per_mm)
    title = say("Carrier from the side") if scene.view == "side" else say("Carrier from the end")
    return Picture(marks=(*ground, *marks, *lines), box=box, title=title)


def _words(scene: Scene, standing: Standing, climb: Climb, at: int, stance: Stance | None) -> tuple[str, ...]:
    if stance is None:
        found = tipping_line(standing, weights_of(scene.design, climb, at), cargo=climb.cargo)
        over, holds = (
            fixed(moment / 1000, 0, "N m") for moment in (found.overturning_nmm, found.righting_nmm)
        )
        return (
            climb.words,
            say(
                "tips over the line through {one} and {other}: {over} against {holds}",
                one=found.names[0],
                other=found.names[1],
                over=over,
                holds=holds,
            ),
        )
    side = scene.view == "side"
    down = say(
        "deck edge {drop} lower, nod {turned}" if side else "deck edge {drop} lower, lean {turned}",
        drop=mm(stance.edge_drop_mm),
        turned=fixed(abs(math.degrees(stance.nod_rad if side else stance.lean_rad)), 2, "°"),
    )
    least = say(
        "least left: {share} on {support}",
        share=fixed(100 * stance.share, 0, "%"),
        support=scene.design.supports[stance.least].name,
    )
    drawn = say("; sinking drawn {factor} times", factor=scene.factor) if scene.factor > 1 else ""
    return climb.words, f"{down}{drawn}", least
