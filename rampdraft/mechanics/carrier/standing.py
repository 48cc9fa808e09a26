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
from itertools import accumulate
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.at_rest import (
    NOTHING,
    AtRest,
    carrier_at_rest,
    load_of,
    plan_of,
    solve,
    spans_of,
)
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
    Outline,
    fixed,
    outline,
    places_of,
)
from rampdraft.mechanics.carrier.ways import Way, onto_deck, stood, way_up
from rampdraft.mechanics.loading.loads import NOT_RIDDEN, Axle, Grades, edge_mm, lateral_places_mm
from rampdraft.model.design import Design, WheeledUser
from rampdraft.rounding import greatest_at, least_along
from rampdraft.units import G_M_S2, MM, Array, of_each_row
from rampdraft.words.say import say

POSITIONS: Final = 10
"""A user is looked at in so many even positions from the toe to the far end of the deck, and wherever an axle
comes onto the deck edge, the hinge or, over a prop, the joint: between those every figure changes evenly
while no support lifts or stops.
"""

ASTRIDE: Final = (0.25, 0.5, 0.75)
"""Shares of a wheelbase that are on the deck where a user astride the hinge is looked at besides: there his
axles' forces change as he leans.
"""

MOST_OVERTURNING: Final = 1000.0
"""Told where hardly anything, or nothing, holds it down."""

_HAIR: Final = 1e-9


def carrier_standing(design: Design, assembly: Assembly, grades: Grades) -> CarrierStanding | None:
    """Return how the carrier stands on its supports; None where none are described."""
    rest = carrier_at_rest(design, assembly)
    return climbed(design, rest, unladen(design, rest, edge_drops_mm(design, rest)[0]), grades)


def climbed(
    design: Design, rest: AtRest | CannotStand | None, standing: CarrierStanding | None, grades: Grades
) -> CarrierStanding | None:
    """Return how the carrier stands as users come up too, from how it stands `unladen`, on ramps of these
    grades.
    """
    if not isinstance(rest, AtRest) or not isinstance(standing, Standing):
        return standing
    return replace(standing, climbs=tuple(_climbs(design, rest, grades)))


def unladen(
    design: Design, rest: AtRest | CannotStand | None, loaded_drop_mm: MM | None
) -> CarrierStanding | None:
    """Return how the carrier stands on level and on twisted ground, and its edge's drop; nobody climbs."""
    if not isinstance(rest, AtRest):
        return rest
    return Standing(
        supports=design.supports,
        weights=rest.weights,
        cargo=rest.cargo,
        empty_push_n=rest.push_n,
        empty_wheels_n=rest.wheels_n,
        climbs=(),
        twisted=_twists(design, rest),
        loaded_drop_mm=loaded_drop_mm,
    )


def twist_share(design: Design, assembly: Assembly) -> float:
    """Return the least share left under the twist of the ground, 1 without one; 0 where the carrier cannot
    stand at all.
    """
    rest = carrier_at_rest(design, assembly)
    if not isinstance(rest, AtRest):
        return 0.0
    return min((twisted.share for twisted in _twists(design, rest)), default=1.0)


def loaded_drop_mm(design: Design, computed_mm: MM | None) -> MM:
    """Return how far the deck edge sinks with its load aboard: `edge_drops_mm` where the supports say, else
    as measured.

    It sinks no further than until the carrier's end lies on the ground; it may rise (a drop below 0), with
    cargo behind the wheels.
    """
    if computed_mm is None:
        return design.carrier.deck_drop_mm
    return min(computed_mm, sinks_at_most_mm(design))


def sinks_at_most_mm(design: Design) -> MM:
    """Return how far the deck edge can sink until the carrier's end lies on the ground."""
    low = max(design.carrier.end_depth_mm, design.deck_hinge.below_mm + 1.0)
    return max(edge_height_mm(design) - low, 0.0)


def climbers(design: Design) -> tuple[WheeledUser, ...]:
    """Return who comes up the ramp: the design's users, and the rated load where that is more than any of
    them.
    """
    use = design.use
    name = say("rated load")
    rated = WheeledUser(name=name, kind="manual wheelchair", mass_kg=use.rated_load_kg, width_mm=700)
    if any(user.mass_kg + user.attendant_kg >= use.rated_load_kg for user in use.users):
        return use.users
    riders = [user for user in use.users if user.kind not in NOT_RIDDEN]
    if riders:
        heaviest = max(riders, key=lambda user: user.mass_kg)
        rated = replace(heaviest, name=name, mass_kg=use.rated_load_kg, attendant_kg=0.0)
    return (*use.users, rated)


def weights_of(design: Design, climb: Climb, position: int) -> tuple[Weight, ...]:
    """Return what each axle of the user puts on the deck at a position of the climb, and where."""
    force, x = onto_deck(design, *axles_at(design, climb, position))
    return tuple(
        Weight(
            kind="user",
            words=say("{user}, axle {number}", user=climb.user, number=number),
            force_n=float(f),
            x_mm=float(at),
            y_mm=climb.across_mm,
        )
        for number, (f, at) in enumerate(zip(force, x, strict=True), start=1)
        if f > 0
    )


def axles_at(design: Design, climb: Climb, position: int) -> tuple[Array, Array]:
    """Return what the axles of the user weigh at a position of the climb, N, and where they stand, mm along
    the ramp from the deck hinge.
    """
    user = climbers(design)[climb.user_number - 1]
    way = way_up(user, bool(climb.forwards[position]), float(climb.grade[position]))
    force, along = stood(way, climb.first_axle_mm[[position]])
    return force[0], along[0]


def tipping_line(standing: Standing, more: tuple[Weight, ...], *, cargo: bool) -> TippingLine:
    """Return the line about which the empty carrier with `more` on it tips first, and the moments about
    it.
    """
    area = outline(plan_of(standing.supports))
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


def _quotient(over: Array, holds: Array) -> Array:
    """Return overturning over righting moments; what nothing holds tips."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.minimum(np.where(over > 0, over / holds, 0.0), MOST_OVERTURNING)


def _positions(design: Design, way: Way, *, least: bool) -> Array:
    """Return where the first axle is looked at, along the ramp from the deck hinge, (P,), from the toe to the
    deck's far end.

    On the ramp the deck feels nothing but how much is on its hinge, which is most on the `least` grade: what
    lies between is met on the way up forwards. So steeper ones are looked at astride the hinge alone, and
    backwards from the hinge on.
    """
    spans, out = spans_of(design), design.deck_hinge.out_mm
    start, end = spans.length_mm, -out - design.carrier.deck_length_mm
    edges = (0.0, -out, *((spans.joint_mm - _HAIR, spans.joint_mm) if spans.propped else ()))
    near, base = way.near_mm, way.base_mm
    astride = [-near - base * part for part in ASTRIDE]
    special = [edge - axle.offset_mm for axle in way.level for edge in edges]
    step = (start - end) / (POSITIONS - 1)
    even = [end + step * number for number in range(POSITIONS - 1)]
    places = {*even, start, *(at for at in (*special, *astride) if end < at < start)}
    high = np.inf if way.forwards else 0.0
    found = [at for at in places if (at <= high if least else -base < at + near < 0)]
    return np.array(sorted(found, reverse=True))


def _lanes(design: Design, axles: tuple[Axle, ...]) -> Iterator[tuple[MM, bool]]:
    """Yield where a user goes: how far across, and whether that is on the deck alone: at the edges of a way
    in that is wider than the ramp.
    """
    sides = sorted(set(lateral_places_mm(design, axles)), key=lambda place: (abs(place), place))
    yield from ((side, False) for side in sides)
    edge = edge_mm(design.carrier.opening_width_mm, axles)
    if edge > max(sides) + _HAIR:
        yield from ((side, True) for side in (-edge, edge))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """One user at one place across, every way round, in so many rows of `_Rolling`."""

    number: int
    user: WheeledUser
    across_mm: MM
    rows: range
    on_deck: bool
    """Nowhere but on the deck, which is wider than the ramp."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Rolling:
    """All runs in a row, before they are solved: P positions."""

    runs: tuple[_Run, ...]
    first_mm: Array
    """Where the first axle stands, (P,)."""
    forwards: Mask
    grade: Array
    """Which way round and on what grade, (P,)."""
    loads: Array
    """(P, 3)."""
    over_nmm: Array
    holds_nmm: Array
    """Overturning and righting moments of what rolls, (P, E)."""


def _rolling(design: Design, area: Outline, grades: Grades) -> _Rolling:
    runs: list[_Run] = []
    blocks: list[Array] = []
    across: list[Array] = []
    begin, users = 0, climbers(design)
    all_ways = [tuple(_ways(user, grades)) for user in users]
    most = max(len(ways[0].level) for ways in all_ways)
    for number, (user, ways) in enumerate(zip(users, all_ways, strict=True), start=1):
        rolls = np.concatenate([_rolls(design, way, most, least=way.grade == min(grades)) for way in ways])
        aboard = rolls[rolls[:, 3] <= -design.deck_hinge.out_mm + _HAIR]
        for side, on_deck in _lanes(design, ways[0].level):
            block = aboard if on_deck else rolls
            if len(block):
                rows = range(begin, begin := begin + len(block))
                runs.append(_Run(number=number, user=user, across_mm=side, rows=rows, on_deck=on_deck))
                blocks.append(block)
                across.append(np.full(len(block), side))
    whole = np.concatenate(blocks)
    force, x = onto_deck(design, whole[:, 4 : 4 + most], whole[:, 4 + most :])
    y = np.broadcast_to(np.concatenate(across)[:, None], x.shape)
    moments = force[:, :, None] * area.inside_mm(np.stack((x, y), axis=-1))
    return _Rolling(
        runs=tuple(runs),
        first_mm=fixed(whole[:, 0].copy()),
        forwards=fixed(whole[:, 1] > 0),
        grade=fixed(whole[:, 2].copy()),
        loads=np.einsum("pa,pak->pk", force, places_of(x, y)),
        over_nmm=np.einsum("pae->pe", np.maximum(-moments, 0.0)),
        holds_nmm=np.einsum("pae->pe", np.maximum(moments, 0.0)),
    )


def _ways(user: WheeledUser, grades: Grades) -> Iterator[Way]:
    """Yield each way of a user to come up."""
    for grade in grades:
        yield from (way_up(user, forwards, grade) for forwards in (True, False))


def _rolls(design: Design, way: Way, axles: int, *, least: bool) -> Array:
    """Return the rows of a user who goes one way, (P, 4 + 2 `axles`): where his first axle is, whether
    forwards, the grade, where his last axle is, what each axle weighs, and where it is; axles that he has not
    weigh nothing.
    """
    first = _positions(design, way, least=least)
    force, along = stood(way, first)
    rows = np.zeros((len(first), 4 + 2 * axles))
    rows[:, 0], rows[:, 1:3], rows[:, 3] = first, (way.forwards, way.grade), along[:, -1]
    rows[:, 4 : 4 + force.shape[1]] = force
    rows[:, 4 + axles : 4 + axles + force.shape[1]] = along
    return rows


def _climbs(design: Design, rest: AtRest, grades: Grades) -> Iterator[Climb]:
    """Yield every user at every place across, either way round on each grade, without cargo and, if there is
    some, with it; all of them solved at once.
    """
    rolling = _rolling(design, rest.area, grades)
    aboard = (False, True) if rest.cargo else (False,)
    still = [
        _still(rest, (*rest.weights, *((rest.cargo,) if cargo and rest.cargo else ()))) for cargo in aboard
    ]
    moves = (rolling.loads, rolling.over_nmm, rolling.holds_nmm)
    loads, over, holds = (
        np.concatenate([move + stays[kind] for stays in still]) for kind, move in enumerate(moves)
    )
    overturning = fixed(of_each_row(np.maximum, _quotient(over, holds)))
    upright = fixed((overturning < 1 - _HAIR) & rest.area.hold(loads))
    freedoms, wheels = solve(rest, rest.laws, loads[upright])
    share, least = _shares(rest, wheels)
    turns, wheels, share = fixed(freedoms / (1.0, MM_PER_M, MM_PER_M)), fixed(wheels), fixed(share)
    leasts: tuple[int, ...] = tuple(least.tolist())
    stood: list[bool] = upright.tolist()
    before: list[int] = list(accumulate(stood, initial=0))
    for number, cargo in enumerate(aboard):
        start = number * len(rolling.first_mm)
        for run in rolling.runs:
            since, until = start + run.rows.start, start + run.rows.stop
            part, rows = slice(since, until), slice(before[since], before[until])
            yield Climb(
                user_number=run.number,
                user=run.user.name,
                across_mm=run.across_mm,
                on_deck=run.on_deck,
                cargo=cargo,
                first_axle_mm=rolling.first_mm[run.rows.start : run.rows.stop],
                forwards=rolling.forwards[run.rows.start : run.rows.stop],
                grade=rolling.grade[run.rows.start : run.rows.stop],
                overturning=overturning[part],
                stands=upright[part],
                stances=Stances(
                    edge_drop_mm=turns[rows, 0],
                    nod_rad=turns[rows, 1],
                    lean_rad=turns[rows, 2],
                    wheels_n=wheels[rows],
                    share=share[rows],
                    least=leasts[rows],
                ),
            )


def _still(rest: AtRest, weights: tuple[Weight, ...]) -> tuple[Array, Array, Array]:
    """Return load, overturning and righting moments of what stands still."""
    arms = rest.area.inside_mm(np.array([(weight.x_mm, weight.y_mm) for weight in weights]))
    force = np.array([weight.force_n for weight in weights])
    return load_of(weights), force @ np.maximum(-arms, 0.0), force @ np.maximum(arms, 0.0)


def _shares(rest: AtRest, wheels: Array) -> tuple[Array, NDArray[np.intp]]:
    """Return the least share left on a support that carries when empty, and which one has it, both (B,)."""
    share = np.where(rest.carrying, wheels / np.where(rest.carrying, rest.wheels_n, 1.0), np.inf)
    least = least_along(share.T, of_each_row(np.minimum, share))
    return share[np.arange(len(share)), least], least


def edge_drops_mm(design: Design, rest: AtRest | CannotStand | None) -> tuple[MM | None, MM | None]:
    """Return how far the deck edge sinks with the cargo aboard: with the heaviest user whole on the middle of
    the edge, then while somebody starts up the ramp, still on the toe. Below 0 where it rises; None where
    that tips the carrier, or nothing is known of how it stands, and of the second where there is no cargo.
    """
    if not isinstance(rest, AtRest):
        return None, None
    heaviest = max(user.mass_kg + user.attendant_kg for user in climbers(design))
    user = Weight(kind="user", words=say("heaviest user"), force_n=G_M_S2 * heaviest, x_mm=0.0, y_mm=0.0)
    aboard = (*rest.weights, *((rest.cargo,) if rest.cargo else ()))
    loads = np.array((load_of((*aboard, user)), load_of(aboard)))
    stands = rest.area.hold(loads) & (True, rest.cargo is not None)
    drops = iter(solve(rest, rest.laws, loads[stands])[0][:, 0].tolist())
    loaded, starting = (next(drops) if one else None for one in stands.tolist())
    return loaded, starting


def _twists(design: Design, rest: AtRest) -> tuple[Twisted, ...]:
    """Return what is left on the supports with the ground lowered under each in turn, jacks up."""
    if not design.carrier_body.twist_mm:
        return ()
    rows = np.flatnonzero(rest.carrying)
    lowered = design.carrier_body.twist_mm * (rows[:, None] == np.arange(len(rest.carrying)))
    loads = np.tile(load_of(rest.weights), (len(rows), 1))
    _, wheels = solve(rest, rest.built_in, loads, lowered)
    share, least = _shares(rest, wheels)
    return tuple(
        Twisted(
            lowered=int(row),
            wheels_n=fixed(wheels[number]),
            share=float(share[number]),
            least=int(least[number]),
            lifted=tuple(
                support.name
                for support, force, carrying in zip(
                    design.supports, wheels[number] - rest.hanging_n, rest.carrying, strict=True
                )
                if carrying and force <= NOTHING * rest.wheels_n.sum()
            ),
        )
        for number, row in enumerate(rows)
    )
