"""What stop bars and pins hold at the joint, from the free body of the outer leaf alone: sum of forces and of
moments is nothing.

Nothing of the program's beam is used: the toe's force from moments of the whole ramp about the deck hinge,
the stop's from moments of the outer leaf about the joint, the pins' from its forces (statics of a rigid
body).
"""

import math
from dataclasses import replace
from typing import Literal

import pytest

from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.grillage import grillage
from rampdraft.mechanics.loading.loads import Axle, Rolling
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.loading.slats import sharing_slats
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.model.section import Section, parse_section
from rampdraft.strength.joining import pin_moment_nmm, pin_moment_single_shear_nmm, pin_shear_n
from rampdraft.strength.members import members_of
from rampdraft.strength.patches import wheels_of
from rampdraft.strength.utilisation import ULTIMATE, Utilisation
from rampdraft.units import G_M_S2

LOAD_N = 3000.0
TYRE_MM = 25.0
BAR_MM = 20.0
"""Depth of a butting bar."""


def ramp(kind: Literal["lap", "butt"]) -> Design:
    """Return a ramp on two rails, so that half of all is each pair's, with a stop bar at each."""
    design = load_design(samples_folder() / "library-trailer.toml")
    stop = replace(
        design.stop, kind=kind, count=2, section=parse_section(f"flat {BAR_MM:g}x12"), lap_mm=85, arm_mm=60
    )
    return replace(
        design,
        inner_leaf=replace(design.inner_leaf, rail_lanes_mm=(-400.0, 400.0)),
        outer_leaf=replace(design.outer_leaf, rail_lanes_mm=(-348.0, 348.0)),
        stop=stop,
    )


def carried_of(design: Design) -> Carried:
    """Return what one axle puts on the ramp, so wide that it goes in the middle."""
    width = min(design.inner_leaf.width_mm, design.outer_leaf.width_mm)
    axle = Axle(offset_mm=0.0, force_n=LOAD_N, track_mm=width - TYRE_MM, patch_mm=(TYRE_MM, TYRE_MM))
    load = Rolling(key="axle", words="axle", ways=((axle,), (axle,)))
    return carry(design, grillage(design), assemble(design).leaves_kg, (load,), 0.0)


def outer_leaf_alone(design: Design) -> tuple[float, tuple[float, float]]:
    """Return the moment of the stops about the joint, and the upward force of the pins but for the stops.

    That is told for the axle just beyond the joint and just before it.
    """
    assembly = assemble(design)
    inner, outer = (G_M_S2 * body.mass_kg for body in (assembly.inner, assembly.outer))
    a, b = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    toe = (inner * a / 2 + LOAD_N * a + outer * (a + b / 2)) / (a + b)
    return toe * b - outer * b / 2, (LOAD_N + outer - toe, outer - toe)


def used(design: Design, carried: Carried, key: str) -> float:
    wheels = wheels_of(design, carried, sharing_slats(design, grillage(design)))
    found = {
        one.family.key: one
        for one in members_of(design, carried, wheels, None, (0.0, design.stop.fixed_length_mm)).utilisations(
            ULTIMATE, (0,)
        )
    }[key]
    assert isinstance(found, Utilisation)
    return found.ratio


@pytest.mark.parametrize("kind", ["lap", "butt"])
def test_pins_hold_what_the_free_body_of_the_outer_leaf_asks(kind: Literal["lap", "butt"]) -> None:
    design = ramp(kind)
    moment, upward = outer_leaf_alone(design)
    if kind == "lap":  # the bars press the leaf down beyond the pins, which hold it up against that too
        pin_n = max(abs(moment / design.stop.lap_mm + up) for up in upward) / 2
    else:  # the faces press it away along the ramp, in the middle of their upper halves
        pin_n = max(math.hypot(moment / (design.stop.arm_mm - BAR_MM / 4), up) for up in upward) / 2
    hinge = design.joint
    bar = properties(Section(kind="round", depth_mm=hinge.pin_diameter_mm, width_mm=hinge.pin_diameter_mm))
    ultimate = material_named(design, design.made_of.fittings).ultimate_mpa
    bent = pin_moment_single_shear_nmm(pin_n, hinge.knuckle_length_mm, 52.0 - hinge.knuckle_length_mm)
    share = math.hypot(
        pin_n / pin_shear_n(bar.area_mm2, ultimate, ULTIMATE),
        bent / pin_moment_nmm(bar.elastic_modulus_mm3, ultimate, ULTIMATE),
    )
    # Past a lapping bar the program adds the greater of both shears, whichever way it goes: never less than
    # is so.
    more = 1.005 if kind == "lap" else 1 + 1e-6
    assert share * (1 - 1e-6) <= used(design, carried_of(design), "joint-pins") <= more * share


@pytest.mark.parametrize("kind", ["lap", "butt"])
def test_stop_bars_hold_the_moment_of_the_free_body(kind: Literal["lap", "butt"]) -> None:
    design = ramp(kind)
    moment, _ = outer_leaf_alone(design)
    joint = carried_of(design).joint
    stops = joint.stop_moment_nmm[0] + joint.self_weight_moment_nmm / 2
    assert stops == pytest.approx([moment / 2, moment / 2], rel=1e-6)


@pytest.mark.parametrize("kind", ["lap", "butt"])
def test_a_stop_at_half_the_arm_presses_nearly_twice_as_hard_on_the_pins(
    kind: Literal["lap", "butt"],
) -> None:
    design = ramp(kind)
    near = replace(design, stop=replace(design.stop, lap_mm=42.5, arm_mm=27.5 + BAR_MM / 4))
    ratio = used(near, carried_of(near), "joint-pins") / used(design, carried_of(design), "joint-pins")
    assert 1.9 < ratio <= 2.0
