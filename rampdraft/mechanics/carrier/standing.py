"""The carrier on its supports as users come up the ramp, and with the ground twisted under it.

Signs are those of DEVELOPERS.md: x away from the deck edge (supports stand `back_mm` behind it, x = -back), y
across, positive to the left of somebody who walks down the ramp. The nod is positive with the deck edge down,
the lean with the left side down; both, and the drop, are told from the empty carrier with the ramp deployed.

The free ends of all springs lie in one plane, so what each carries when empty follows from the rates. Jacks
are put down after that and carry nothing yet. Springs are linear between full extension and bump stop. Loads
stand still: no bumps.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.results import (
    CannotStand,
    CarrierStanding,
    Climb,
    Mask,
    Stances,
    Standing,
    TippingLine,
    Twisted,
    Weight,
)
from rampdraft.mechanics.carrier.supports import (
    MM_PER_M,
    RIGID_N_MM,
    Laws,
    Outline,
    balance,
    outline,
    places_of,
)
from rampdraft.mechanics.loading.beam import Array, Spans, hinge_line
from rampdraft.mechanics.loading.loads import NOT_RIDDEN, Axle, axles_of, lateral_places_mm
from rampdraft.model.design import Design, Support, WheeledUser
from rampdraft.rounding import greatest_along, greatest_at
from rampdraft.units import G_M_S2, MM

POSITIONS: Final = 10
"""A user is looked at in so many even positions from the toe to the far end of the deck, and wherever an axle
comes onto the deck edge, the hinge or, over a prop, the joint: between those every figure changes evenly
while no support lifts or stops.
"""

Kind = TypeVar("Kind", bound=np.generic)

MOST_OVERTURNING: Final = 1000.0
"""Told where hardly anything, or nothing, holds it down."""

_NOTHING: Final = 1e-6
"""Share of the whole weight below which a support carries nothing."""
_HAIR: Final = 1e-9


def carrier_standing(design: Design, assembly: Assembly) -> CarrierStanding | None:
    """Return how the carrier stands on its supports; None where none are described."""
    if not design.supports:
        return None
    rest = _at_rest(design, assembly)
    if isinstance(rest, CannotStand):
        return rest
    return Standing(
        supports=design.supports,
        weights=rest.weights,
        cargo=rest.cargo,
        empty_push_n=_fixed(rest.push_n),
        empty_wheels_n=_fixed(rest.wheels_n),
        climbs=tuple(_climbs(design, rest)),
        twisted=_twists(design, rest),
        loaded_drop_mm=_edge_drop_mm(design, rest),
    )


def twist_share(design: Design, assembly: Assembly) -> float:
    """Return the least share left under the twist of the ground, 1 without one; 0 where the carrier cannot
    stand at all.
    """
    rest = _at_rest(design, assembly)
    if isinstance(rest, CannotStand):
        return 0.0
    return min((twisted.share for twisted in _twists(design, rest)), default=1.0)


def loaded_drop_mm(design: Design, standing: CarrierStanding | None) -> MM:
    """Return how far the deck edge sinks with its load aboard: computed where the supports say, else as
    measured.

    It sinks no further than until the carrier's end lies on the ground; a deck edge that rises counts as one
    that stays.
    """
    return _down_to_the_ground_mm(design, standing.loaded_drop_mm if isinstance(standing, Standing) else None)


def drop_alone_mm(design: Design, assembly: Assembly) -> MM:
    """Return `loaded_drop_mm` without looking at anybody coming up."""
    rest = _at_rest(design, assembly) if design.supports else None
    return _down_to_the_ground_mm(design, _edge_drop_mm(design, rest) if isinstance(rest, _Rest) else None)


def _down_to_the_ground_mm(design: Design, computed: MM | None) -> MM:
    if computed is None:
        return design.carrier.deck_drop_mm
    room = edge_height_mm(design) - max(design.carrier.end_depth_mm, design.deck_hinge.below_mm + 1.0)
    return min(max(computed, 0.0), max(room, 0.0))


def climbers(design: Design) -> tuple[WheeledUser, ...]:
    """Return who comes up the ramp: the design's users, and the rated load where that is more than any of
    them.
    """
    use = design.use
    rated = WheeledUser(name="rated load", kind="manual wheelchair", mass_kg=use.rated_load_kg, width_mm=700)
    if any(user.mass_kg + user.attendant_kg >= use.rated_load_kg for user in use.users):
        return use.users
    riders = [user for user in use.users if user.kind not in NOT_RIDDEN]
    if riders:
        heaviest = max(riders, key=lambda user: user.mass_kg)
        rated = replace(heaviest, name="rated load", mass_kg=use.rated_load_kg, attendant_kg=0.0)
    return (*use.users, rated)


def weights_of(design: Design, climb: Climb, position: int) -> tuple[Weight, ...]:
    """Return what each axle of the user puts on the deck at a position of the climb, and where."""
    axles = axles_of(climbers(design)[climb.user_number - 1])
    force, x = _on_deck(design, axles, climb.first_axle_mm[[position]])
    rows = zip(force[0], x[0], strict=True)
    return tuple(
        Weight(
            kind="user",
            words=f"{climb.user}, axle {number}",
            force_n=float(f),
            x_mm=float(at),
            y_mm=climb.across_mm,
        )
        for number, (f, at) in enumerate(rows, start=1)
        if f > 0
    )


def tipping_line(standing: Standing, more: tuple[Weight, ...], *, cargo: bool) -> TippingLine:
    """Return the line about which the empty carrier with `more` on it tips first, and the moments about
    it.
    """
    area = outline(_plan(standing.supports))
    assert area is not None, "what stands has an outline"
    weights = (*standing.weights, *((standing.cargo,) if cargo and standing.cargo else ()), *more)
    places = np.array([(weight.x_mm, weight.y_mm) for weight in weights])
    arms = area.inside_mm(places)
    forces = np.array([weight.force_n for weight in weights])
    over, holds = forces @ np.maximum(-arms, 0.0), forces @ np.maximum(arms, 0.0)
    (line,) = greatest_at(_quotient(over, holds))
    pairs = tuple((weight, float(arm)) for weight, arm in zip(weights, arms[:, line], strict=True))
    first, second = area.ends[line]
    return TippingLine(
        supports=(first, second),
        names=(standing.supports[first].name, standing.supports[second].name),
        overturning=tuple((weight, -arm) for weight, arm in pairs if arm < -_HAIR and weight.force_n > 0),
        righting=tuple((weight, arm) for weight, arm in pairs if arm > _HAIR and weight.force_n > 0),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Rest:
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


def _at_rest(design: Design, assembly: Assembly) -> _Rest | CannotStand:
    supports, body = design.supports, design.carrier_body
    area = outline(_plan(supports))
    if area is None:
        few = len(supports) < 3
        why = f"{len(supports)} supports hold no deck up" if few else "all supports stand in one line"
        return CannotStand(why=why, way_out="describe three supports or more that are not in one line")
    always = tuple(support for support in supports if _carries_always(support))
    area_empty = outline(_plan(always))
    if area_empty is None:
        why = "before jacks are put down, fewer than three supports carry, or all stand in one line"
        return CannotStand(
            why=why, way_out="a drawbar coupling or landing leg that carries always is a bearer with no gap"
        )
    hanging = np.array(
        [G_M_S2 * support.unsprung_kg if support.kind == "spring" else 0.0 for support in supports]
    )
    wheels = tuple(
        Weight(
            kind="wheels",
            words=f"{support.name}, below the spring",
            force_n=float(force),
            x_mm=-support.back_mm,
            y_mm=support.across_mm,
        )
        for support, force in zip(supports, hanging, strict=True)
        if force
    )
    sprung = (
        Weight(
            kind="body",
            words="body",
            force_n=G_M_S2 * body.body_kg,
            x_mm=-body.body_back_mm,
            y_mm=body.body_across_mm,
        ),
        Weight(
            kind="ballast",
            words="ballast",
            force_n=G_M_S2 * body.ballast_kg,
            x_mm=-body.ballast_back_mm,
            y_mm=body.ballast_across_mm,
        ),
        *ramp_weights(design, assembly),
    )
    sprung = tuple(weight for weight in sprung if weight.force_n > 0)
    if not area_empty.hold(_load(sprung)):
        why = (
            "empty, with the ramp on it, its centre of mass lies outside the supports that carry before jacks"
            " are put down"
        )
        return CannotStand(why=why, way_out="move the body's centre, add ballast, or move a support")
    empty = balance(_laws(supports, hanging, None), _load(sprung)[None])
    sunk = empty.freedoms[0] @ _places(supports).T
    carried = empty.push_n[0]
    whole = sum(weight.force_n for weight in sprung)
    cargo = Weight(
        kind="cargo",
        words="cargo",
        force_n=G_M_S2 * body.cargo_kg,
        x_mm=-body.cargo_back_mm,
        y_mm=body.cargo_across_mm,
    )
    laws = _laws(supports, hanging, sunk)
    up = np.array([support.kind == "jack" for support in supports])
    return _Rest(
        laws=laws,
        built_in=replace(laws, push=np.where(up, -np.inf, laws.push)),
        area=area,
        weights=(*sprung, *wheels),
        cargo=cargo if body.cargo_kg else None,
        push_n=carried,
        wheels_n=carried + hanging,
        hanging_n=hanging,
        carrying=carried > _NOTHING * whole,
    )


def _laws(supports: tuple[Support, ...], hanging: Array, sunk: Array | None) -> Laws:
    """Return how the supports push from the empty state, in which they have `sunk` so far; before that,
    without stops.
    """
    spring = np.array([support.kind == "spring" for support in supports])
    gap = np.array([support.gap_mm for support in supports])
    free = np.array([not _carries_always(support) for support in supports])
    rate = np.where(spring, [support.rate_n_mm for support in supports], RIGID_N_MM)
    endless = np.full(len(supports), np.inf)
    if sunk is None:
        push, bump, extension = np.where(free, -np.inf, 0.0), endless, endless
    else:
        push = np.where(free, -rate * gap, rate * sunk)
        bump = np.where(spring, [support.bump_mm for support in supports], np.inf)
        extension = np.where(spring, [support.extension_mm for support in supports], np.inf)
    return Laws(
        places=_places(supports), rate=rate, push=push, bump=bump, extension=extension, least=-hanging
    )


def _carries_always(support: Support) -> bool:
    """Return whether a support may carry the empty carrier: springs, and bearers that do not stand off."""
    return support.kind == "spring" or (support.kind == "bearer" and support.gap_mm == 0)


def _plan(supports: tuple[Support, ...]) -> tuple[tuple[MM, MM], ...]:
    return tuple((-support.back_mm, support.across_mm) for support in supports)


def _places(supports: tuple[Support, ...]) -> Array:
    return places_of(*np.array(_plan(supports)).T)


def _load(weights: tuple[Weight, ...]) -> Array:
    """Return the force and its moments about the deck edge's middle, N and N m, (3,)."""
    rows = np.array([(weight.force_n, weight.x_mm, weight.y_mm) for weight in weights]).reshape(-1, 3)
    return rows[:, 0] @ places_of(rows[:, 1], rows[:, 2])


def _quotient(over: Array, holds: Array) -> Array:
    """Return overturning over righting moments; what nothing holds tips."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.minimum(np.where(over > 0, over / holds, 0.0), MOST_OVERTURNING)


def ramp_weights(design: Design, assembly: Assembly) -> Iterator[Weight]:
    """Yield what the deployed ramp puts on the deck: its share on the hinge, and what is fixed to the deck
    itself.

    The weight of a leaf is spread evenly along it, so its part on the hinge is that of its middle.
    """
    spans = _spans(design)
    joint, length = spans.joint_mm, spans.length_mm
    middles = np.array((joint / 2, (joint + length) / 2))
    part = hinge_line(spans, middles)
    force = G_M_S2 * float(part @ (assembly.inner.mass_kg, assembly.outer.mass_kg))
    yield Weight(
        kind="ramp", words="ramp on its hinge", force_n=force, x_mm=design.deck_hinge.out_mm, y_mm=0.0
    )
    fixed = assembly.of("carrier")
    mass = sum(member.mass_kg for member in fixed)
    if mass:
        x, y = (sum(member.mass_kg * member.centre_mm[axis] for member in fixed) / mass for axis in (0, 1))
        yield Weight(
            kind="ramp", words="plate and knuckles on the deck", force_n=G_M_S2 * mass, x_mm=x, y_mm=y
        )


def _spans(design: Design) -> Spans:
    joint = design.inner_leaf.length_mm
    return Spans(length_mm=joint + design.outer_leaf.length_mm, joint_mm=joint, propped=design.prop.fitted)


def _positions(design: Design, axles: tuple[Axle, ...]) -> Array:
    """Return where the first axle is looked at, along the ramp from the deck hinge, from the toe to the
    deck's far end.
    """
    spans, out = _spans(design), design.deck_hinge.out_mm
    start, end = spans.length_mm, -out - design.carrier.deck_length_mm
    edges = (0.0, -out, *((spans.joint_mm - _HAIR, spans.joint_mm) if spans.propped else ()))
    special = (edge - axle.offset_mm for axle in axles for edge in edges)
    return np.array(
        sorted(
            {*np.linspace(end, start, POSITIONS), *(at for at in special if end < at < start)}, reverse=True
        )
    )


def _on_deck(design: Design, axles: tuple[Axle, ...], first_mm: Array) -> tuple[Array, Array]:
    """Return what each axle puts on the deck, N, and where, x in mm, both (S, K), the first axle standing at
    `first_mm` (S,).

    On the ramp an axle hands part of its force to the deck hinge; beyond the hinge it stands on the deck
    itself.
    """
    at = first_mm[:, None] + np.array([axle.offset_mm for axle in axles])
    part = np.where(at < 0, 1.0, hinge_line(_spans(design), at))
    return part * np.array([axle.force_n for axle in axles]), design.deck_hinge.out_mm + np.minimum(at, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Run:
    """One climb before it is solved: loads (S, 3), overturning and righting moments (S, E) of what rolls."""

    number: int
    user: WheeledUser
    across_mm: MM
    first_mm: Array
    loads: Array
    over_nmm: Array
    holds_nmm: Array


def _runs(design: Design, rest: _Rest) -> Iterator[_Run]:
    for number, user in enumerate(climbers(design), start=1):
        axles = axles_of(user)
        first = _positions(design, axles)
        force, x = _on_deck(design, axles, first)
        for across in sorted(set(lateral_places_mm(design, axles)), key=lambda place: (abs(place), place)):
            y = np.full_like(x, across)
            arms = rest.area.inside_mm(np.stack((x, y), axis=-1))
            over, holds = ((force[:, :, None] * np.maximum(sign * arms, 0.0)).sum(axis=1) for sign in (-1, 1))
            loads = (force[:, :, None] * places_of(x, y)).sum(axis=1)
            yield _Run(
                number=number,
                user=user,
                across_mm=across,
                first_mm=first,
                loads=loads,
                over_nmm=over,
                holds_nmm=holds,
            )


def _climbs(design: Design, rest: _Rest) -> Iterator[Climb]:
    """Yield every user at every place across, without cargo and, if there is some, with it; all of them
    solved at once.
    """
    runs = tuple(_runs(design, rest))
    still = {False: _still(rest, rest.weights)}
    if rest.cargo:
        still[True] = _still(rest, (*rest.weights, rest.cargo))
    cases = [(run, cargo) for cargo in still for run in runs]
    loads = np.concatenate([run.loads + still[cargo][0] for run, cargo in cases])
    over = np.concatenate([run.over_nmm + still[cargo][1] for run, cargo in cases])
    holds = np.concatenate([run.holds_nmm + still[cargo][2] for run, cargo in cases])
    overturning = _quotient(over, holds).max(axis=1)
    upright = (overturning < 1 - _HAIR) & rest.area.hold(loads)
    freedoms, wheels = _solve(rest, rest.laws, loads[upright])
    share, least = _shares(rest, wheels)
    row = np.cumsum(upright) - 1
    start = 0
    for run, cargo in cases:
        part = slice(start, start + len(run.first_mm))
        start = part.stop
        stands = upright[part]
        rows = row[part][stands]
        yield Climb(
            user_number=run.number,
            user=run.user.name,
            across_mm=run.across_mm,
            cargo=cargo,
            first_axle_mm=_fixed(run.first_mm),
            overturning=_fixed(overturning[part]),
            stands=_fixed(stands),
            stances=Stances(
                edge_drop_mm=_fixed(freedoms[rows, 0]),
                nod_rad=_fixed(freedoms[rows, 1] / MM_PER_M),
                lean_rad=_fixed(freedoms[rows, 2] / MM_PER_M),
                wheels_n=_fixed(wheels[rows]),
                share=_fixed(share[rows]),
                least=tuple(least[rows].tolist()),
            ),
        )


def _fixed(array: NDArray[Kind]) -> NDArray[Kind]:
    """Return the array, read-only."""
    array.setflags(write=False)
    return array


def _still(rest: _Rest, weights: tuple[Weight, ...]) -> tuple[Array, Array, Array]:
    """Return load, overturning and righting moments of what stands still."""
    arms = rest.area.inside_mm(np.array([(weight.x_mm, weight.y_mm) for weight in weights]))
    force = np.array([weight.force_n for weight in weights])
    return _load(weights), force @ np.maximum(-arms, 0.0), force @ np.maximum(arms, 0.0)


def _solve(rest: _Rest, laws: Laws, loads: Array, lowered: Array | None = None) -> tuple[Array, Array]:
    """Return the deck's freedoms (B, 3) and what each support presses on the ground (B, n).

    `loads` are of all weights; those below the springs stand on the ground by themselves and do not press the
    deck.
    """
    found = balance(laws, loads - rest.hanging_n @ laws.places, lowered)
    return found.freedoms, found.push_n + rest.hanging_n


def _shares(rest: _Rest, wheels: Array) -> tuple[Array, NDArray[np.intp]]:
    """Return the least share left on a support that carries when empty, and which one has it, both (B,)."""
    share = np.where(rest.carrying, wheels / np.where(rest.carrying, rest.wheels_n, 1.0), np.inf)
    least = greatest_along(-share.T, -share.min(axis=1))
    return share[np.arange(len(share)), least], least


def _edge_drop_mm(design: Design, rest: _Rest) -> MM | None:
    """Return how far the deck edge sinks with the cargo aboard and the heaviest user whole on the middle of
    the edge.
    """
    heaviest = max(user.mass_kg + user.attendant_kg for user in climbers(design))
    user = Weight(kind="user", words="heaviest user", force_n=G_M_S2 * heaviest, x_mm=0.0, y_mm=0.0)
    load = _load((*rest.weights, *((rest.cargo,) if rest.cargo else ()), user))
    if not rest.area.hold(load):
        return None
    return float(_solve(rest, rest.laws, load[None])[0][0, 0])


def _twists(design: Design, rest: _Rest) -> tuple[Twisted, ...]:
    """Return what is left on the supports with the ground lowered under each in turn, jacks up."""
    if not design.carrier_body.twist_mm:
        return ()
    rows = np.flatnonzero(rest.carrying)
    lowered = design.carrier_body.twist_mm * (rows[:, None] == np.arange(len(rest.carrying)))
    loads = np.tile(_load(rest.weights), (len(rows), 1))
    _, wheels = _solve(rest, rest.built_in, loads, lowered)
    share, least = _shares(rest, wheels)
    return tuple(
        Twisted(
            lowered=int(row),
            wheels_n=_fixed(wheels[number]),
            share=float(share[number]),
            least=int(least[number]),
            lifted=tuple(
                support.name
                for support, force, carrying in zip(
                    design.supports, wheels[number] - rest.hanging_n, rest.carrying, strict=True
                )
                if carrying and force <= _NOTHING * rest.wheels_n.sum()
            ),
        )
        for number, row in enumerate(rows)
    )
