"""The welds between the knuckles of a hinge line and their rails."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from rampdraft.geometry.members.hinges import KnuckleWeld, knuckle_weld
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Hinge, Leaf, Material
from rampdraft.model.section import Section
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, Symbol, Worked
from rampdraft.strength.joining import Seam, seam, unweldable
from rampdraft.strength.joint import DeckForces, PairForces, PinForce, round_bar
from rampdraft.strength.utilisation import Combination, Outcome, Unknown
from rampdraft.units import MM, Array
from rampdraft.words.figures import measure, newton, newton_mm, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

WELD: Final = Formula(
    Symbol("Fa", newton) / Symbol("la", measure) + Symbol("Fs", newton) / Symbol("ls", measure),
    newton_mm,
    "EN 1993-1-8, 2.5, 4.5.3.3",
)
"""What a mm of weld bears of a pin's force along the leaf and square to it, each over the length that
counts.
"""
_SLICES: Final = 9
_STEPS: Final = 16
_STILL: Final = 0.02
"""Parts of an arc or line, steps of redistribution, and the least share of the greatest slip that one
counts as.
"""


@lru_cache(maxsize=1024)
def counting_mm(weld: KnuckleWeld, beside_mm: MM) -> tuple[MM, MM]:
    """Return what length of a knuckle's weld counts for a force on its pin: along the leaf, and square to it.

    The force acts at the hinge centre, `beside_mm` beside the middle of the weld: besides the force the
    weld bears its couple about the pin's axis, since all of the weld lies behind the pin, and the one
    across. The force over the length returned is the greatest that a mm of weld has, in any direction.

    EN 1993-1-8, 2.5: any spread of forces that balances the load and is nowhere above the resistance holds
    (the static theorem of plasticity). It begins with the elastic spread, as of a rigid knuckle on springs,
    and softens the springs where they slip most, a fixed number of times; each spread balances the load,
    and the best of them counts. Against linear programmes it is at most a sixth too little, and 2 % too
    much.
    """
    places, lengths = _slices(weld)
    x, y, z = places.T
    moved = np.zeros((len(places), 3, 6))
    moved[:, :, :3] = np.eye(3)
    moved[:, 0, 4], moved[:, 0, 5], moved[:, 1, 5] = z, -y, x
    moved[:, 1, 3], moved[:, 2, 3], moved[:, 2, 4] = -z, y, -x
    flat = moved.reshape(-1, 6)
    # Columns: a force along the leaf and one square to it, each with its couples about the hinge centre.
    along, square = (1, 0, 0, 0, 0, -beside_mm), (0, 0, 1, beside_mm, 0, 0)
    return _least_length(flat, lengths, np.array(along)), _least_length(flat, lengths, np.array(square))


def _least_length(flat: Array, lengths: Array, load: Array) -> MM:
    soft, best = np.ones(len(lengths)), np.inf
    for _ in range(_STEPS):
        weighed = flat * np.repeat(soft * lengths, 3)[:, None]
        stiffness = weighed.T @ flat
        stiffness += 1e-12 * np.trace(stiffness) * np.eye(6)  # a single line does not turn about itself
        turned = np.linalg.solve(np.asarray(stiffness, dtype=np.float64), np.asarray(load, dtype=np.float64))
        moved = flat @ turned
        slip = np.sqrt(moved[::3] ** 2 + moved[1::3] ** 2 + moved[2::3] ** 2)
        best = min(best, float((soft * slip).max()))
        soft = 1 / np.maximum(slip, _STILL * slip.max())
    return 1 / best


def _slices(weld: KnuckleWeld) -> tuple[Array, Array]:
    """Return the middles of the weld's slices from the hinge centre, (S, 3): along, across, up; and their
    lengths, (S,).
    """
    parts = (np.arange(_SLICES) + 0.5) / _SLICES
    angles = weld.arc_rad[0] + parts * (weld.arc_rad[1] - weld.arc_rad[0])
    half, flat = weld.width_mm / 2, np.zeros(_SLICES)
    arcs = [
        np.column_stack((-weld.radius_mm * np.cos(angles), flat + side, weld.radius_mm * np.sin(angles)))
        for side in (-half, half)
    ]
    lines = [np.column_stack((flat + u, 2 * half * (parts - 0.5), flat + w)) for u, w in weld.lines_mm]
    pieces = [weld.arc_mm] * 2 + [weld.width_mm] * len(lines)
    return np.concatenate(arcs + lines), np.repeat(pieces, _SLICES) / _SLICES


@dataclass(frozen=True, slots=True, kw_only=True)
class KnuckleWelds:
    """The welds between the knuckles of a hinge line and their rails."""

    hinge: Hinge
    forces: DeckForces | PairForces
    welds: tuple[KnuckleWeld, ...]
    """One a leaf."""
    shift_mm: MM
    throat_mm: MM
    ends: tuple[tuple[Material, Section], ...]
    """What the welds join."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the weld behind the most loaded pin.

        Raises StrengthUnknownError where a material holds no strength.
        """
        line, force = seam(self.throat_mm, combination.basis, *self.ends), combination.once(self.forces.pin)
        weld, arm, stress = self.worst(force)
        used = stress.value / line.n_mm
        return Outcome(
            ratio=used,
            worked=prose(_weld_lines, force, weld, arm, stress, line),
            clause="EN 1993-1-8, 2.5, 4.5.3.3",
            load=force.load,
        )

    @property
    def along_mm(self) -> MM:
        """Return how much of the rail's wall the knuckle takes along it."""
        return self.hinge.knuckle_diameter_mm

    def range_n_mm(self, loads: list[int]) -> Array:
        """Return the most that a mm of weld bears of each of these loads alone, (L,)."""
        along, square = self.forces.parts_n(loads)
        ranges = np.zeros(len(loads))
        for pair, gap in enumerate(self.forces.gaps_mm):
            arm = (self.hinge.knuckle_length_mm + gap) / 2 + self.shift_mm
            for weld in self.welds:
                counts_along, counts_square = counting_mm(weld, arm)
                here = along[:, pair] / counts_along + square[:, pair] / counts_square
                ranges = np.maximum(ranges, here)
        return ranges

    def worst(self, force: PinForce) -> tuple[KnuckleWeld, MM, Worked]:
        """Return the weld that bears most a mm of a pin's force, how far beside it that stands, and what a mm
        bears.
        """
        arm = (self.hinge.knuckle_length_mm + self.forces.gaps_mm[force.pair]) / 2 + self.shift_mm
        counted = ((weld, *counting_mm(weld, arm)) for weld in self.welds)
        found = [
            (weld, arm, WELD.of(force.along_n, along, force.square_n, square))
            for weld, along, square in counted
        ]
        return greatest(found, lambda one: one[2].value)


def _weld_lines(force: PinForce, weld: KnuckleWeld, arm: MM, stress: Worked, line: Seam) -> Lines:
    return (
        *force.lines(),
        say(
            "weld = 2 arcs of {arc} and {lines} lines of {width} = {length}",
            arc=measure(weld.arc_mm),
            lines=len(weld.lines_mm),
            width=measure(weld.width_mm),
            length=measure(weld.length_mm),
        ),
        say(
            "of it counts, with the pin {arm} beside its middle and the weld behind it, along the"
            " leaf la = {along}, square to it ls = {square}",
            arm=measure(arm),
            along=measure(stress.of[1]),
            square=measure(stress.of[3]),
        ),
        say(
            "q = {formula} on {seam} = {used}",
            formula=stress.line,
            seam=line.words,
            used=percent(stress.value / line.n_mm),
        ),
    )


def knuckle_welds(
    design: Design, hinge: Hinge, forces: DeckForces | PairForces, leaves: tuple[Leaf, ...], shift_mm: MM
) -> KnuckleWelds | Unknown:
    """Return the welds of the knuckles on these leaves, or why they cannot be judged."""
    rails, fittings = (
        material_named(design, name) for name in (design.made_of.rails, design.made_of.fittings)
    )
    if why := unweldable(fittings, rails):
        return Unknown(why=why)
    found = [weld for leaf in leaves if (weld := knuckle_weld(hinge, leaf, shift_mm)) is not None]
    if len(found) < len(leaves):
        return Unknown(why=say("A knuckle does not lie on its rail: nothing is there to weld it to."))
    return KnuckleWelds(
        hinge=hinge,
        forces=forces,
        welds=tuple(dict.fromkeys(found)),
        shift_mm=shift_mm,
        throat_mm=design.joining.weld_throat_mm,
        ends=(
            (fittings, round_bar(hinge.knuckle_diameter_mm)),
            *((rails, leaf.rail_section) for leaf in leaves),
        ),
    )
