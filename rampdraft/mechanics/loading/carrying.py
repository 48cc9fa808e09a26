"""What the ramp's members have to carry: every load at every place, shared among the rails as a grillage
does.

The ramp is taken as lying level, as long as both leaves: the moments and shears are a little more than on
the slope, and the thrust along the slope, weight times its sine, is left out (below 1 MPa in the rails).
"""

from typing import Literal

import numpy as np

from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.loading.beam import Spans, moment_line
from rampdraft.mechanics.loading.grillage import Effects, Grillage
from rampdraft.mechanics.loading.loads import Load, Rolling, axle_shares, edge_mm
from rampdraft.mechanics.loading.places import BODIES, Over, columns
from rampdraft.mechanics.loading.results import Carried, CrossForces, JointForces, LeafForces, Sag
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.units import G_M_S2, KG, MM, Array


def carry(
    design: Design, frame: Grillage, leaves_kg: tuple[KG, KG], loads: tuple[Load, ...], across: float
) -> Carried:
    """Return what each load, at its worst place, puts on rails, cross members, joint, hinge, prop and toe.

    `across`: by how much the ground slopes across at most, rise over width.
    """
    verdict, over = joint_verdict(design), Over(design, frame, loads, across)
    most = over.most
    own = Effects(frame, frame.bearing(_self_weight(frame, leaves_kg)[None])[0])
    elastic = material_named(design, design.made_of.rails).elastic_mpa
    return Carried(
        loads=loads,
        spans=Spans(length_mm=over.length_mm, joint_mm=over.joint_mm, propped=design.prop.fitted),
        held=verdict.held and not frame.loose,
        loose=frame.loose if verdict.held else (),
        inner=_leaf_forces(over, own, "inner"),
        outer=_leaf_forces(over, own, "outer"),
        crosses=(_crosses(over, own, "inner"), _crosses(over, own, "outer")),
        joint=_joint_forces(over, own),
        hinge_n=most.hinge_n,
        self_weight_hinge_n=float(own.hinge_n.max()),
        toe_n=most.whole_toe_n,
        toe_rails_n=most.toe_n,
        self_weight_toe_n=float(own.toe_n.sum()),
        sag=_sag(over, own, verdict.drop_mm + over.slack_mm) if elastic else None,
        worst=over.worst(),
    )


def lever_rule_nmm(
    spans: Spans, lanes_mm: tuple[MM, ...], width_mm: MM, load: Rolling, rail: int, at_mm: MM
) -> float:
    """Return the moment of a load at a section of a rail, counted from 0, by the lever rule: the plain
    bound, as if nothing but the slats shared among the rails.

    Each axle on the section, the wheels of one against either edge, in the middle, or over that rail.
    """
    most = 0.0
    for axles in load.ways:
        offsets, forces, tracks, _ = columns(axles)
        edge = edge_mm(width_mm, axles)
        over = np.concatenate((lanes_mm[rail] - tracks / 2, lanes_mm[rail] + tracks / 2))
        across = np.clip(np.concatenate((over, (-edge, 0.0, edge))), -edge, edge)
        shares = axle_shares(lanes_mm, tracks[None], across[None])[0, :, rail]
        lines = moment_line(spans, at_mm, at_mm - offsets[:, None] + offsets)
        most = max(most, float((lines @ (shares * forces).T).max()))
    return most


def _self_weight(frame: Grillage, leaves_kg: tuple[KG, KG]) -> Array:
    """Return the ramp's own weight on the stations: spread evenly over each leaf, on all its rails alike."""
    found: list[Array] = []
    for x, mass_kg in zip((frame.inner_mm, frame.outer_mm), leaves_kg, strict=True):
        half = np.diff(x) / 2 * mass_kg * G_M_S2 / (x[-1] - x[0]) / frame.rails
        found.append(np.repeat(np.append(half, 0.0) + np.append(0.0, half), frame.rails))
    return np.concatenate(found)


def _at_stations(most: Array) -> Array:
    """Return the greater of both sides of each station: (..., E, 2) to (..., E + 1)."""
    before, after = most[..., 1], most[..., 0]
    return np.concatenate(
        (after[..., :1], np.maximum(before[..., :-1], after[..., 1:]), before[..., -1:]), axis=-1
    )


def _leaf_forces(over: Over, own: Effects, body: Literal["inner", "outer"]) -> LeafForces:
    """Return what the rails of a leaf carry."""
    most, least = over.most, over.least
    shear, own_shear = (
        _at_stations(np.stack((found, found), axis=-1))
        for found in (np.maximum(most.shears(body), -least.shears(body)), np.abs(own.shears(body)))
    )
    # Just beside a support the rail carries all that comes to it.
    beside = {
        "inner": (most.hinge_n, np.maximum(most.ends_n, -least.ends_n)),
        "outer": (np.maximum(most.pins_n, -least.pins_n), most.toe_n),
    }
    for at, found in zip((0, -1), beside[body], strict=True):
        shear[..., at] = np.maximum(shear[..., at], found)
    return LeafForces(
        body=body,
        x_mm=over.leaves[BODIES.index(body)],
        moment_nmm=_at_stations(most.moments(body)),
        hogging_nmm=-_at_stations(-least.moments(body)),
        shear_n=shear,
        self_weight_moment_nmm=_at_stations(own.moments(body)),
        self_weight_shear_n=own_shear,
    )


def _joint_forces(over: Over, own: Effects) -> JointForces:
    """Return what passes through the joint."""
    most, least, own_pairs = over.most, over.least, own.moments("inner")[:, -1, 1]
    total = float(own_pairs.sum())
    return JointForces(
        moment_nmm=most.moments("inner")[..., -1, 1],
        shear_n=np.maximum(most.pins_n, -least.pins_n),
        stop_moment_nmm=most.stops_nmm,
        self_weight_moment_nmm=total,
        self_weight_share=float(own_pairs.max()) / total if total > 0 else 1 / len(own_pairs),
        self_weight_shear_n=float(np.abs(own.pins_n).max()) * len(own_pairs),
        prop_n=most.props_n,
        self_weight_prop_n=float(own.props_n.max(initial=0.0)),
        least_prop_n=float(own.props_n.min()) if over.frame.props else 0.0,
    )


def _crosses(over: Over, own: Effects, body: Literal["inner", "outer"]) -> CrossForces:
    """Return what the cross members of a leaf carry as they share."""
    most = np.maximum(over.most.crosses_nmm(body), -over.least.crosses_nmm(body))
    return CrossForces(
        body=body,
        moment_nmm=most.max(axis=(-1, -2), initial=0.0),
        self_weight_moment_nmm=np.abs(own.crosses_nmm(body)).max(axis=(-1, -2), initial=0.0),
    )


def _sag(over: Over, own: Effects, drop_mm: MM) -> Sag:
    """Return the sag of the rail that sinks most at each station."""
    joint, length = over.joint_mm, over.length_mm
    x = np.concatenate(over.leaves)
    rolls = np.array([isinstance(load, Rolling) for load in over.loads])
    factors = np.array([load.factor if isinstance(load, Rolling) else 1.0 for load in over.loads])
    return Sag(
        x_mm=x,
        self_weight_mm=own.sunk_mm.max(axis=-1),
        load_mm=over.most.sunk_mm.max(axis=-1) * (rolls / factors)[:, None],
        play_mm=drop_mm * np.minimum(x / joint, (length - x) / (length - joint)),
    )
