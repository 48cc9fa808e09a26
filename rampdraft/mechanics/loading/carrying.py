"""What the ramp's members have to carry: every load at every place, shared among the rails as a grillage
does.

The ramp is taken as lying level, as long as both leaves: the moments and shears are a little more than on
the slope, and the thrust along the slope, weight times its sine, is left out (below 1 MPa in the rails).
"""

from collections.abc import Callable
from typing import Final, Literal

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
    own = Effects(frame, frame.bearing(frame.closed(_self_weight(frame, leaves_kg)[None]), None)[0])
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
        hinge_n=over.most(lambda one: one.hinge_n),
        self_weight_hinge_n=float(own.hinge_n.max()),
        toe_n=over.most(lambda one: one.toe_n.sum(axis=-1)),
        toe_rails_n=over.most(lambda one: one.toe_n),
        self_weight_toe_n=float(own.toe_n.sum()),
        sag=_sag(over, own, verdict.drop_mm) if elastic else None,
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
    shear, own_shear = (
        _at_stations(np.stack((found, found), axis=-1))
        for found in (over.most(lambda one: np.abs(one.shears(body))), np.abs(own.shears(body)))
    )
    # Just beside a support the rail carries all that comes to it.
    for at, effect in _ENDS[body]:
        shear[..., at] = np.maximum(shear[..., at], over.most(effect))
    return LeafForces(
        body=body,
        x_mm=over.leaves[BODIES.index(body)],
        moment_nmm=_at_stations(over.most(lambda one: one.moments(body))),
        hogging_nmm=-_at_stations(over.most(lambda one: -one.moments(body))),
        shear_n=shear,
        self_weight_moment_nmm=_at_stations(own.moments(body)),
        self_weight_shear_n=own_shear,
    )


def _at_joint(one: Effects) -> Array:
    """Return what comes to the inner leaf's ends at the joint, from its own side: what pins and props
    take there.
    """
    found = np.abs(one.pins_n)
    if one.of.props:
        found[..., list(one.of.props)] += one.props_n
    return found


_ENDS: Final[dict[str, tuple[tuple[int, Callable[[Effects], Array]], ...]]] = {
    "inner": ((0, lambda one: one.hinge_n), (-1, _at_joint)),
    "outer": ((0, lambda one: np.abs(one.pins_n)), (-1, lambda one: one.toe_n)),
}


def _joint_forces(over: Over, own: Effects) -> JointForces:
    """Return what passes through the joint."""
    own_pairs = own.moments("inner")[:, -1, 1]
    total = float(own_pairs.sum())
    return JointForces(
        moment_nmm=over.most(lambda one: one.moments("inner")[..., -1, 1]),
        shear_n=over.most(lambda one: np.abs(one.pins_n)),
        stop_moment_nmm=over.most(lambda one: one.stops_nmm),
        self_weight_moment_nmm=total,
        self_weight_share=float(own_pairs.max()) / total if total > 0 else 1 / len(own_pairs),
        self_weight_shear_n=float(np.abs(own.pins_n).max()) * len(own_pairs),
        prop_n=over.most(lambda one: one.props_n),
        self_weight_prop_n=float(own.props_n.max(initial=0.0)),
        least_prop_n=float(own.props_n.min()) if own.of.props else 0.0,
    )


def _crosses(over: Over, own: Effects, body: Literal["inner", "outer"]) -> CrossForces:
    """Return what the cross members of a leaf carry as they share."""
    return CrossForces(
        body=body,
        moment_nmm=over.most(lambda one: np.abs(one.crosses_nmm(body)).max(axis=(-1, -2), initial=0.0)),
        self_weight_moment_nmm=np.abs(own.crosses_nmm(body)).max(axis=(-1, -2), initial=0.0),
    )


def _sag(over: Over, own: Effects, drop_mm: MM) -> Sag:
    """Return the sag of the rail that sinks most at each station."""
    frame, joint, length = over.frame, over.joint_mm, over.length_mm
    x = np.concatenate(over.leaves)
    rolls = np.array([isinstance(load, Rolling) for load in over.loads])
    factors = np.array([load.factor if isinstance(load, Rolling) else 1.0 for load in over.loads])

    def sunk(one: Effects) -> Array:
        return one.sunk_mm.reshape(*one.sunk_mm.shape[:-1], -1, frame.rails).max(axis=-1)

    return Sag(
        x_mm=x,
        self_weight_mm=sunk(own),
        load_mm=over.most(sunk) * (rolls / factors)[:, None],
        play_mm=drop_mm * np.minimum(x / joint, (length - x) / (length - joint)),
    )
