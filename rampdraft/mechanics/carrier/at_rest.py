"""The empty carrier on its supports, with the ramp deployed: what weighs on it, and how the supports push
from there. Signs and what is assumed: see `standing`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.results import CannotStand, Mask, Weight
from rampdraft.mechanics.carrier.supports import RIGID_N_MM, Laws, Outline, balance, fixed, outline, places_of
from rampdraft.mechanics.loading.beam import Spans, hinge_line
from rampdraft.model.design import Design, Support
from rampdraft.units import G_M_S2, MM, Array, ArrayRecord, N
from rampdraft.words.say import say

NOTHING: Final = 1e-6
"""Share of the whole weight below which a support carries nothing."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AtRest(ArrayRecord):
    """The empty carrier, and how its supports push from there."""

    laws: Laws
    """With jacks, measured from the empty state."""
    built_in: Laws
    """Without jacks: they never push."""
    area: Outline
    weights: tuple[Weight, ...]
    cargo: Weight | None
    push_n: Array
    wheels_n: Array
    hanging_n: Array
    """Weight of what is below each spring."""
    carrying: Mask
    """Which supports carry when empty."""


def _too_few(supports: tuple[Support, ...]) -> CannotStand:
    why = say("all supports stand in one line")
    if len(supports) < 3:
        why = say("{count} supports hold no deck up", count=len(supports))
    return CannotStand(why=why, way_out=say("describe three supports or more that are not in one line"))


def carrier_at_rest(design: Design, assembly: Assembly) -> AtRest | CannotStand | None:
    """Return the empty carrier on its supports, with the ramp deployed; None where none are described."""
    supports = design.supports
    if not supports:
        return None
    area = outline(plan_of(supports))
    if area is None:
        return _too_few(supports)
    area_empty = outline(plan_of(tuple(support for support in supports if _carries_always(support))))
    if area_empty is None:
        why = say("before jacks are put down, fewer than three supports carry, or all stand in one line")
        return CannotStand(
            why=why,
            way_out=say("a drawbar coupling or landing leg that carries always is a bearer with no gap"),
        )
    sprung = _sprung(design, assembly)
    load = load_of(sprung)
    if not area_empty.hold(load):
        why = say(
            "empty, with the ramp on it, its centre of mass lies outside the supports that"
            " carry before jacks are put down"
        )
        return CannotStand(why=why, way_out=say("move the body's centre, add ballast, or move a support"))
    hanging = np.array([_hanging_n(support) for support in supports])
    loose = _loose_laws(supports, hanging)
    empty = balance(loose, load[None])
    laws = _laws(supports, loose, empty.freedoms[0] @ loose.places.T)
    up = np.array([support.kind == "jack" for support in supports])
    return AtRest(
        laws=laws,
        built_in=replace(laws, push=fixed(np.where(up, -np.inf, laws.push))),
        area=area,
        weights=(*sprung, *_wheels(supports)),
        cargo=_cargo(design) if design.carrier_body.cargo_kg else None,
        push_n=fixed(empty.push_n[0]),
        wheels_n=fixed(empty.push_n[0] + hanging),
        hanging_n=fixed(hanging),
        carrying=fixed(empty.push_n[0] > NOTHING * sum(weight.force_n for weight in sprung)),
    )


def _cargo(design: Design) -> Weight:
    body = design.carrier_body
    return Weight(
        kind="cargo",
        words=say("cargo"),
        force_n=G_M_S2 * body.cargo_kg,
        x_mm=-body.cargo_back_mm,
        y_mm=body.cargo_across_mm,
    )


def _sprung(design: Design, assembly: Assembly) -> tuple[Weight, ...]:
    """Return what weighs on the supports when the carrier is empty."""
    body = design.carrier_body
    own = Weight(
        kind="body",
        words=say("body"),
        force_n=G_M_S2 * body.body_kg,
        x_mm=-body.body_back_mm,
        y_mm=body.body_across_mm,
    )
    ballast = Weight(
        kind="ballast",
        words=say("ballast"),
        force_n=G_M_S2 * body.ballast_kg,
        x_mm=-body.ballast_back_mm,
        y_mm=body.ballast_across_mm,
    )
    every = (own, ballast, *ramp_weights(design, assembly))
    return tuple(weight for weight in every if weight.force_n > 0)


def _wheels(supports: tuple[Support, ...]) -> Iterator[Weight]:
    """Yield what hangs below each spring."""
    for support in supports:
        if force := _hanging_n(support):
            yield Weight(
                kind="wheels",
                words=say("{name}, below the spring", name=support.name),
                force_n=force,
                x_mm=-support.back_mm,
                y_mm=support.across_mm,
            )


def _hanging_n(support: Support) -> N:
    return G_M_S2 * support.unsprung_kg if support.kind == "spring" else 0.0


def _loose_laws(supports: tuple[Support, ...], hanging: Array) -> Laws:
    """Return how the supports push before the empty state, from the free ends of all springs on and without
    stops.
    """
    push = [0.0 if _carries_always(support) else -np.inf for support in supports]
    endless = fixed(np.full(len(supports), np.inf))
    return Laws(
        places=fixed(places_of(*np.array(plan_of(supports)).T)),
        rate=fixed(np.array([_rate_n_mm(support) for support in supports])),
        push=np.array(push),
        bump=endless,
        extension=endless,
        least=fixed(-hanging),
    )


def _laws(supports: tuple[Support, ...], loose: Laws, sunk: Array) -> Laws:
    """Return how the supports push from the empty state, in which they have `sunk` so far."""
    push = [
        float(pushed) if _carries_always(support) else -_rate_n_mm(support) * support.gap_mm
        for support, pushed in zip(supports, loose.rate * sunk, strict=True)
    ]
    stops = [
        (support.bump_mm, support.extension_mm) if support.kind == "spring" else (np.inf, np.inf)
        for support in supports
    ]
    bump, extension = fixed(np.array(stops).T.copy())
    return replace(loose, push=fixed(np.array(push)), bump=bump, extension=extension)


def _rate_n_mm(support: Support) -> float:
    return support.rate_n_mm if support.kind == "spring" else RIGID_N_MM


def _carries_always(support: Support) -> bool:
    """Return whether a support may carry the empty carrier: springs, and bearers that do not stand off."""
    return support.kind == "spring" or (support.kind == "bearer" and support.gap_mm == 0)


def plan_of(supports: tuple[Support, ...]) -> tuple[tuple[MM, MM], ...]:
    """Return where the supports stand, x and y."""
    return tuple((-support.back_mm, support.across_mm) for support in supports)


def load_of(weights: tuple[Weight, ...]) -> Array:
    """Return the force and its moments about the deck edge's middle, N and N m, (3,)."""
    rows = np.array([(weight.force_n, weight.x_mm, weight.y_mm) for weight in weights]).reshape(-1, 3)
    return rows[:, 0] @ places_of(rows[:, 1], rows[:, 2])


def ramp_weights(design: Design, assembly: Assembly) -> Iterator[Weight]:
    """Yield what the deployed ramp puts on the deck: its share on the hinge, and what is fixed to the deck
    itself.

    The weight of a leaf is spread evenly along it, so its part on the hinge is that of its middle.
    """
    spans = spans_of(design)
    joint, length = spans.joint_mm, spans.length_mm
    middles = np.array((joint / 2, (joint + length) / 2))
    part = hinge_line(spans, middles)
    force = G_M_S2 * float(part @ (assembly.inner.mass_kg, assembly.outer.mass_kg))
    yield Weight(
        kind="ramp", words=say("ramp on its hinge"), force_n=force, x_mm=design.deck_hinge.out_mm, y_mm=0.0
    )
    fixed = assembly.of("carrier")
    mass = sum(member.mass_kg for member in fixed)
    if mass:
        x, y = (sum(member.mass_kg * member.centre_mm[axis] for member in fixed) / mass for axis in (0, 1))
        yield Weight(
            kind="ramp", words=say("plate and knuckles on the deck"), force_n=G_M_S2 * mass, x_mm=x, y_mm=y
        )


def spans_of(design: Design) -> Spans:
    """Return the ramp as a beam, along it from the deck hinge."""
    joint = design.inner_leaf.length_mm
    return Spans(length_mm=joint + design.outer_leaf.length_mm, joint_mm=joint, propped=design.prop.fitted)


def solve(rest: AtRest, laws: Laws, loads: Array, lowered: Array | None = None) -> tuple[Array, Array]:
    """Return the deck's freedoms (B, 3) and what each support presses on the ground (B, n).

    `loads` are of all weights; those below the springs stand on the ground by themselves and do not press the
    deck.
    """
    found = balance(laws, loads - rest.hanging_n @ laws.places, lowered)
    return found.freedoms, found.push_n + rest.hanging_n
