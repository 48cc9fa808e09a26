"""The members of a ramp as they are judged: the face of this room.

`members_of` finds once what depends neither on basis nor on load; `utilisations` asks it under a combination,
`verdicts` under the ramp's users by limit states and on ultimate strength.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.loads import is_of_use
from rampdraft.mechanics.loading.results import Carried, CrossForces, LeafForces
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import greatest_at
from rampdraft.strength.bracket import bolts_of, bracket_of, stubs
from rampdraft.strength.crushing import pressed_rails
from rampdraft.strength.fixings import fixings
from rampdraft.strength.guards import guards, pushing_wheels
from rampdraft.strength.joint import Pins, deck_forces, joint_forces
from rampdraft.strength.knuckles import knuckle_welds
from rampdraft.strength.patches import Wheels
from rampdraft.strength.rails import Rails, rail_capacity_nmm, rails_of
from rampdraft.strength.sharing import sharing_parts
from rampdraft.strength.stop import columns, feet, prop_pins, stop_bars
from rampdraft.strength.surface import surface_parts
from rampdraft.strength.utilisation import (
    FOLDS,
    LIMIT_STATES,
    ULTIMATE,
    Basis,
    Combination,
    Family,
    Judged,
    Unknown,
    UnknownUtilisation,
    Utilisation,
    load_words,
    loose_words,
    utilisation,
)
from rampdraft.units import MM, Array, ArrayRecord
from rampdraft.words.say import named, say


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """Every family of members with what it carries."""

    parts: tuple[tuple[Family, Judged | Unknown], ...]
    words: tuple[str, ...]
    """Of each load."""
    in_use: tuple[int, ...]
    """Indices of the loads of the users and of the rated load, which no rule demands."""

    def utilisations(
        self, basis: Basis, loads: tuple[int, ...]
    ) -> tuple[Utilisation | UnknownUtilisation, ...]:
        """Return what every family uses of its strength under the worst of these loads."""
        combination = self._under(basis, loads)
        return tuple(utilisation(family, part, combination) for family, part in self.parts)

    def rails_along(self, body: str, load: int) -> Array:
        """Return what the rails of a leaf use by limit states under one load at each section, (X,).

        Empty where it cannot be judged.
        """
        part = next(part for family, part in self.parts if family.key == f"{body}-rails")
        try:
            return part.along(self._under(LIMIT_STATES, (load,))) if isinstance(part, Rails) else np.array([])
        except StrengthUnknownError:
            return np.array([])

    def _under(self, basis: Basis, loads: tuple[int, ...]) -> Combination:
        return Combination(basis=basis, loads=loads, words=self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Both verdicts on one family of members under the ramp's users and its rated load."""

    utilisation: Utilisation | UnknownUtilisation
    """By limit states."""
    factor: float | None
    """Overall factor on ultimate strength; None where it cannot be judged."""


def verdicts(members: Members) -> tuple[Verdict, ...]:
    """Return both verdicts on every family of members under the ramp's users and its rated load."""
    limits, ultimate = (members.utilisations(basis, members.in_use) for basis in (LIMIT_STATES, ULTIMATE))
    return tuple(
        Verdict(
            utilisation=one,
            factor=1 / other.ratio if isinstance(other, Utilisation) and other.ratio > 0 else None,
        )
        for one, other in zip(limits, ultimate, strict=True)
    )


def members_of(
    design: Design,
    carried: Carried,
    wheels: Wheels,
    bridge_bears_mm: tuple[MM, MM] | None,
    bar_line_mm: tuple[MM, MM] | None,
) -> Members:
    """Return the members with what they carry; the bridge plate as `surface_parts` is told how it bears, the
    stop bars as `stop_bars` is told where they are welded.
    """
    return _under_loads(
        carried,
        *(_rails(design, carried, forces) for forces in carried.leaves),
        *surface_parts(design, wheels, bridge_bears_mm),
        *(part for forces in carried.crosses for part in _sharing(design, carried, forces)),
        *_at_hinges(design, carried, bar_line_mm),
        *_props(design, carried),
    )


def fixed_on(design: Design, carried: Carried, wheels: Wheels) -> Members:
    """Return what is judged under wheels alone, and under no other load of a rule: edge upstands that are
    pushed, slats that are lifted.
    """
    return _under_loads(carried, *_fixed_on(design, carried, wheels))


def _fixed_on(design: Design, carried: Carried, wheels: Wheels) -> Iterator[tuple[Family, Judged | Unknown]]:
    leaves: tuple[tuple[Literal["inner", "outer"], Leaf], ...] = (
        ("inner", design.inner_leaf),
        ("outer", design.outer_leaf),
    )
    pushing, pulled = pushing_wheels(carried), np.maximum(*(one.pull_n for one in wheels.on_slats))
    for (body, leaf), on_slat in zip(leaves, wheels.on_slats, strict=True):
        subject = named(f"{body} leaf")
        if leaf.upstand_height_mm > 0:
            title, member = say("Edge upstands pushed sideways"), f"{body} edge upstand left"
            family = Family(key=f"{body}-upstands", title=title, subject=subject, member=member, leaf=body)
            yield family, guards(design, leaf, pushing)
        held = fixings(design, leaf, on_slat, pulled)
        if held is not None:
            title, member = say("Slats held down"), f"{body} slat 1"
            family = Family(key=f"{body}-fixings", title=title, subject=subject, member=member, leaf=body)
            yield family, held


def _under_loads(carried: Carried, *parts: tuple[Family, Judged | Unknown]) -> Members:
    return Members(
        parts=parts,
        words=tuple(load_words(load) for load in carried.loads),
        in_use=tuple(number for number, load in enumerate(carried.loads) if is_of_use(load)),
    )


def _rails(design: Design, carried: Carried, forces: LeafForces) -> tuple[Family, Rails | Unknown]:
    body = forces.body
    member, subject = f"{body} rail 1", named(f"{body} leaf")
    family = Family(
        key=f"{body}-rails",
        title=say("Rails in bending and shear"),
        subject=subject,
        member=member,
        leaf=body,
    )
    return family, rails_of(design, carried, forces) if carried.held else _unheld(carried)


def _sharing(
    design: Design, carried: Carried, forces: CrossForces
) -> Iterator[tuple[Family, Judged | Unknown]]:
    for family, part in sharing_parts(design, forces):
        yield family, part if carried.held else _unheld(carried)


def _unheld(carried: Carried) -> Unknown:
    """Return why nothing can be judged of a ramp that something does not hold."""
    return Unknown(why=loose_words(carried.loose)) if carried.loose else Unknown(why=say(FOLDS))


_AT_JOINT: Final = ("stop", "lap-tip", "joint-pins", "joint-knuckles")
"""Families that the joint's lever arm loads."""


def _at_hinges(
    design: Design, carried: Carried, bar_line_mm: tuple[MM, MM] | None
) -> Iterator[tuple[Family, Judged | Unknown]]:
    """Yield stop bars, pins, knuckle welds and bracket bolts."""
    armless = not design.prop.fitted and bearing_arm_mm(design) <= 0
    parts = _hinge_parts(design, carried, bar_line_mm) if carried.held else {}
    for family in _hinge_families(design):
        no_arm = (
            Unknown(why=say("The butting faces lie about the hinge centre: they have no lever arm."))
            if armless and family.key in _AT_JOINT
            else None
        )
        part = no_arm or parts[family.key] if carried.held else _unheld(carried)
        if part is not None:
            yield family, part


def _hinge_families(design: Design) -> Iterator[Family]:
    if design.stop.kind != "none" and not design.prop.fitted:
        fixed = design.stop.fixed_to if design.stop.kind == "lap" else "inner"
        yield Family(key="stop", title=say("Stop bars"), subject=say("joint"), member=f"{fixed} stop bar 1")
        other = "inner" if fixed == "outer" else "outer"
        if design.stop.kind == "lap":
            yield Family(
                key="lap-tip",
                title=say("Rails under the stop bar's tip"),
                subject=say("joint"),
                member=f"{other} rail 1",
                leaf=other,
            )
    for key, title, subject, member in (
        ("joint-pins", say("Pins"), say("joint"), "joint pin 1"),
        ("deck-pins", say("Pins"), say("deck hinge"), "deck pin 1"),
        ("joint-knuckles", say("Knuckle welds"), say("joint"), "inner joint knuckle 1"),
        ("deck-knuckles", say("Knuckle welds"), say("deck hinge"), "inner deck knuckle 1"),
        ("bolts", say("Bolts of the carrier's brackets"), say("deck hinge"), "carrier knuckle 1"),
        ("bracket", say("Stubs of the carrier's brackets"), say("deck hinge"), "carrier knuckle 1"),
    ):
        yield Family(key=key, title=title, subject=subject, member=member)


def _hinge_parts(
    design: Design, carried: Carried, bar_line_mm: tuple[MM, MM] | None
) -> dict[str, Judged | Unknown | None]:
    """Return the parts by the key of their family; None of what is not there to be judged."""
    inner, outer = design.inner_leaf, design.outer_leaf
    shift = max(abs(inner.knuckle_shift_mm), abs(outer.knuckle_shift_mm))
    fittings = material_named(design, design.made_of.fittings)
    joint, deck = joint_forces(design, carried), deck_forces(design, carried)
    bracket = bracket_of(design, carried, deck)
    return {
        "stop": stop_bars(design, carried, bar_line_mm)
        if carried.joint.stop_moment_nmm.size
        else _unheld(carried),
        "lap-tip": pressed_rails(design, joint) if design.stop.kind == "lap" else None,
        "joint-pins": Pins(hinge=design.joint, forces=joint, material=fittings),
        "deck-pins": Pins(hinge=design.deck_hinge, forces=deck, material=fittings),
        "joint-knuckles": knuckle_welds(design, design.joint, joint, (inner, outer), shift),
        "deck-knuckles": knuckle_welds(design, design.deck_hinge, deck, (inner,), 0.0),
        "bolts": bolts_of(bracket),
        "bracket": stubs(bracket, design),
    }


def _props(design: Design, carried: Carried) -> Iterator[tuple[Family, Judged | Unknown]]:
    if design.prop.fitted:
        family = Family(key="prop", title=say("Props as columns"), subject="", member="prop left")
        yield family, columns(design, carried)
        if design.prop.pin_diameter_mm:
            family = Family(key="prop-pin", title=say("Pins of the props"), subject="", member="prop left")
            yield family, prop_pins(design, carried) if carried.held else _unheld(carried)
        family = Family(key="foot", title=say("Feet of the props"), subject="", member="prop foot left")
        yield family, feet(design, carried)


_HAIR_MM: Final = 1e-3
_TAPER_POINTS: Final = 13
_ALIKE: Final = 0.005
"""By so little more of the strength another section than that of the greatest moment is not named."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RailLine(ArrayRecord):
    """What the rails of a leaf have to carry at each section under one load by limit states, at each section
    that which has most there: (X,).
    """

    body: Literal["inner", "outer"]
    rail: int
    """That with the greatest moment, counted from 1."""
    x_mm: Array
    """Along the ramp from the deck hinge."""
    moment_nmm: Array
    hogging_nmm: Array
    """0 or less."""
    shear_n: Array
    used: Array
    """Of the strength in bending with shear, as it is judged, at these sections and, where a stop holds the
    joint, by what passes there from leaf to leaf; empty where it is not known.
    """
    capacity: tuple[Array, Array] | None
    """Places along the ramp and the moment that a rail takes there in bending alone, with every step; None
    where it is not known.
    """

    @property
    def owner(self) -> str:
        """Return the key of the rail."""
        return f"{self.body} rail {self.rail}"

    def most_used(self, section_mm: MM) -> tuple[float, MM]:
        """Return how much of its strength the rail uses at most, and where: the utilisation of the check.

        A section that uses as much, to half a per cent, is named where it is `section_mm`.
        """
        most, (at,) = float(self.used.max()), greatest_at(self.used)
        joint = self.x_mm[-1 if self.body == "inner" else 0]
        places = np.append(self.x_mm, [joint] * (len(self.used) - len(self.x_mm)))
        near = int(np.abs(places - section_mm).argmin())
        if self.used[near] > most - _ALIKE and abs(places[near] - section_mm) < 1.0:
            return most, section_mm
        return most, float(places[at])


def rail_lines(design: Design, carried: Carried, strengths: Members, load: int) -> tuple[RailLine, ...]:
    """Return the line of each leaf's rails under a load."""
    return tuple(_line(design, carried, strengths, forces, load) for forces in carried.leaves)


def _line(design: Design, carried: Carried, strengths: Members, forces: LeafForces, load: int) -> RailLine:
    basis, most = LIMIT_STATES, forces.moment_nmm[load]
    hogging = (forces.self_weight_moment_nmm + basis.gamma_q * forces.hogging_nmm[load]).min(axis=0)
    sagging = basis.gamma_g * forces.self_weight_moment_nmm + basis.gamma_q * most
    return RailLine(
        body=forces.body,
        rail=greatest_at(most.max(axis=1))[0] + 1,
        x_mm=forces.x_mm,
        moment_nmm=sagging.max(axis=0),
        hogging_nmm=np.minimum(hogging, 0.0),
        shear_n=(basis.gamma_g * forces.self_weight_shear_n + basis.gamma_q * forces.shear_n[load]).max(
            axis=0
        ),
        used=strengths.rails_along(forces.body, load),
        capacity=_capacity(design, forces.body, carried.spans.joint_mm),
    )


def _capacity(design: Design, body: Literal["inner", "outer"], joint_mm: MM) -> tuple[Array, Array] | None:
    leaf, start = (design.inner_leaf, 0.0) if body == "inner" else (design.outer_leaf, joint_mm)
    half = leaf.cross_section.width_mm / 2
    steps = [
        edge + hair
        for at in leaf.cross_positions_mm
        for edge in (at - half, at + half)
        for hair in (-_HAIR_MM, _HAIR_MM)
    ]
    taper = leaf.length_mm - design.toe.length_mm
    if body == "outer" and design.toe.kind == "taper":
        steps += [taper, taper + _HAIR_MM, *np.linspace(taper, leaf.length_mm, _TAPER_POINTS)[1:]]
    along = np.unique(np.clip([0.0, *steps, leaf.length_mm], 0.0, leaf.length_mm))
    values = rail_capacity_nmm(design, body, along)
    return None if values is None else (start + along, values)
