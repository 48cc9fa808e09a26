"""What comes to one pin of a hinge line, and so to its knuckles and to the bolts behind them."""

from dataclasses import dataclass
from typing import Final

from rampdraft.figures import mm, newton
from rampdraft.geometry.lanes import joint_pairs_mm
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.design import Design
from rampdraft.prose import Lines
from rampdraft.strength.formula import Formula, Symbol, Worked, root
from rampdraft.strength.utilisation import FORCE, MOMENT, Combination
from rampdraft.units import MM, Array, ArrayRecord, N

_SHEAR, _PRESSED = Symbol("V", newton), Symbol("M / e", newton)
PRESSED: Final = Formula(MOMENT.term / Symbol("e", mm), newton)
"""What a stop presses on the pins: the design moment over its lever arm."""
BY_LAP: Final = Formula(_SHEAR + _PRESSED, newton)
"""Beside a lapping bar, which presses square to the leaf as the shear does."""
BY_FACE: Final = Formula(root(_SHEAR**2 + _PRESSED**2), newton)
"""Beside butting faces, which press along the leaf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PinForce:
    """The force of the most loaded pin, and how it comes about."""

    force_n: N
    load: int
    pair: int
    """Counted from 0."""
    head: str
    """Words of the load and of the place."""
    worked: tuple[Worked, ...]
    """The force itself at the deck hinge; shear, what the stop presses, and both together at the joint."""

    def lines(self) -> Lines:
        """Return the lines of its working."""
        if len(self.worked) == 1:
            return self.head, f"F = {self.worked[0].numbers} = {self.worked[0].result}"
        shear, pressed, both = self.worked
        lines = self.head, f"V = {shear.numbers} = {shear.result}"
        if not pressed.value:
            return lines
        return *lines, f"M / e = {pressed.numbers} = {pressed.result}", f"F = {both.short}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DeckForces(ArrayRecord):
    """What the knuckles at the deck carry, L loads, P knuckles."""

    self_weight_n: N
    load_n: Array
    """(L, P)."""
    gaps_mm: tuple[MM, ...]
    """Between the knuckles that a pin joins, (P,)."""

    def pin(self, combination: Combination) -> PinForce:
        """Return the force of the most loaded pin."""
        return combination.once("pin, deck", self._pin)

    def _pin(self, combination: Combination) -> PinForce:
        load, pair = combination.governing(self.load_n[list(combination.loads)])
        force = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, pair]))
        head = f"{combination.words[load]}; knuckle {pair + 1}"
        return PinForce(force_n=force.value, load=load, pair=pair, head=head, worked=(force,))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class JointForces(ArrayRecord):
    """What comes to the pairs of knuckles at the joint, L loads, P pairs."""

    self_weight_n: N
    self_weight_nmm: float
    load_n: Array
    """Shear, (L, P)."""
    load_nmm: Array
    """Moment that the stop holds, (L, P); 0 over a prop."""
    arm_mm: MM
    """Of the stop; over a prop, where it holds nothing, any."""
    by: Formula
    gaps_mm: tuple[MM, ...]

    def pin(self, combination: Combination) -> PinForce:
        """Return the force of the most loaded pin."""
        return combination.once("pin, joint", self._pin)

    def _pin(self, combination: Combination) -> PinForce:
        chosen = list(combination.loads)
        shears = combination.design_value(self.self_weight_n, self.load_n[chosen])
        pressed = combination.design_value(self.self_weight_nmm, self.load_nmm[chosen]) / self.arm_mm
        load, pair = combination.governing(self.by.at(shears, pressed))
        shear = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, pair]))
        gamma_g, gamma_q = combination.basis.gamma_g, combination.basis.gamma_q
        press = PRESSED.of(
            gamma_g, self.self_weight_nmm, gamma_q, float(self.load_nmm[load, pair]), self.arm_mm
        )
        both = self.by.of(shear.value, press.value)
        head = f"{combination.words[load]}; pair {pair + 1}"
        return PinForce(force_n=both.value, load=load, pair=pair, head=head, worked=(shear, press, both))


def deck_forces(design: Design, carried: Carried) -> DeckForces:
    """Return what comes to the knuckles at the deck."""
    gaps = (design.deck_hinge.side_gap_mm,) * carried.hinge_n.shape[1]
    return DeckForces(self_weight_n=carried.self_weight_hinge_n, load_n=carried.hinge_n, gaps_mm=gaps)


def joint_forces(design: Design, carried: Carried) -> JointForces:
    """Return what comes to the pairs of knuckles at the joint."""
    joint, length, propped = carried.joint, design.joint.knuckle_length_mm, carried.spans.propped
    return JointForces(
        self_weight_n=joint.self_weight_shear_n / joint.shear_n.shape[1],
        self_weight_nmm=0.0 if propped else joint.self_weight_moment_nmm * joint.self_weight_share,
        load_n=joint.shear_n,
        load_nmm=joint.moment_nmm,
        arm_mm=1.0 if propped else bearing_arm_mm(design),
        by=BY_LAP if design.stop.kind == "lap" else BY_FACE,
        gaps_mm=tuple(max(0.0, abs(one - other) - length) for one, other in joint_pairs_mm(design)),
    )
