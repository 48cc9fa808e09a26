"""The members of a ramp as they are judged: the face of this room.

`members_of` finds once what depends neither on basis nor on load; `utilisations` asks it under a combination,
`verdicts` under the ramp's users by limit states and on ultimate strength.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.loads import is_of_use
from rampdraft.mechanics.loading.results import Carried, LeafForces
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.strength.basis import LIMIT_STATES, ULTIMATE, Basis
from rampdraft.strength.joint import Bolts, Pins, deck_forces, joint_forces, knuckle_welds
from rampdraft.strength.rails import TITLE as RAILS
from rampdraft.strength.rails import Rails, rails_of
from rampdraft.strength.stop import columns, feet, stop_bars
from rampdraft.strength.surface import surface_parts
from rampdraft.strength.utilisation import (
    FOLDS,
    Combination,
    Family,
    Part,
    Unknown,
    UnknownUtilisation,
    Utilisation,
    load_words,
    utilisation,
)
from rampdraft.units import Array

_NO_ARM = Unknown(why="The butting faces lie about the hinge centre: they have no lever arm.")
_FOLDS = Unknown(why=FOLDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """Every family of members with what it carries."""

    parts: tuple[tuple[Family, Part | Unknown], ...]
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


def members_of(design: Design, carried: Carried) -> Members:
    """Return the members with what they carry."""
    return Members(
        parts=(
            *(_rails(design, carried, forces) for forces in carried.leaves),
            *surface_parts(design, carried),
            *_at_hinges(design, carried),
            *_props(design, carried),
        ),
        words=tuple(load_words(load) for load in carried.loads),
        in_use=tuple(number for number, load in enumerate(carried.loads) if is_of_use(load)),
    )


def _rails(design: Design, carried: Carried, forces: LeafForces) -> tuple[Family, Rails | Unknown]:
    body = forces.body
    member, subject = f"{body} rail 1", f"{body} leaf"
    family = Family(key=f"{body}-rails", title=RAILS, subject=subject, member=member, leaf=body)
    return family, rails_of(design, carried, forces) if carried.held else _FOLDS


def _at_hinges(design: Design, carried: Carried) -> Iterator[tuple[Family, Part | Unknown]]:
    """Yield stop bars, pins, knuckle welds and bracket bolts."""
    armless = not design.prop.fitted and bearing_arm_mm(design) <= 0
    parts = _hinge_parts(design, carried) if carried.held else {}
    for family in _hinge_families(design):
        no_arm = _NO_ARM if armless and family.subject == "joint" else None
        yield family, no_arm or parts[family.key] if carried.held else _FOLDS


def _hinge_families(design: Design) -> Iterator[Family]:
    if design.stop.kind != "none" and not design.prop.fitted:
        fixed = design.stop.fixed_to if design.stop.kind == "lap" else "inner"
        yield Family(key="stop", title="Stop bars", subject="joint", member=f"{fixed} stop bar 1")
    for key, title, subject, member in (
        ("joint-pins", "Pins", "joint", "joint pin 1"),
        ("deck-pins", "Pins", "deck hinge", "deck pin 1"),
        ("joint-knuckles", "Knuckle welds", "joint", "inner joint knuckle 1"),
        ("deck-knuckles", "Knuckle welds", "deck hinge", "inner deck knuckle 1"),
        ("bolts", "Bolts of the carrier's brackets", "deck hinge", "carrier knuckle 1"),
    ):
        yield Family(key=key, title=title, subject=subject, member=member)


def _hinge_parts(design: Design, carried: Carried) -> dict[str, Part | Unknown]:
    inner, outer, out = design.inner_leaf, design.outer_leaf, max(0.0, design.deck_hinge.out_mm)
    shift = max(abs(inner.knuckle_shift_mm), abs(outer.knuckle_shift_mm))
    fittings = material_named(design, design.made_of.fittings)
    joint, deck = joint_forces(design, carried), deck_forces(design, carried)
    return {
        "stop": stop_bars(design, carried) if carried.joint.stop_moment_nmm.size else _FOLDS,
        "joint-pins": Pins(hinge=design.joint, forces=joint, material=fittings),
        "deck-pins": Pins(hinge=design.deck_hinge, forces=deck, material=fittings),
        "joint-knuckles": knuckle_welds(design, design.joint, joint, (inner, outer), shift),
        "deck-knuckles": knuckle_welds(design, design.deck_hinge, deck, (inner,), 0.0),
        "bolts": Bolts(out_mm=out, forces=deck, joining=design.joining),
    }


def _props(design: Design, carried: Carried) -> Iterator[tuple[Family, Part | Unknown]]:
    if design.prop.fitted:
        family = Family(key="prop", title="Props as columns", subject="", member="prop left")
        yield family, columns(design, carried)
        family = Family(key="foot", title="Feet of the props", subject="", member="prop foot left")
        yield family, feet(design, carried)
