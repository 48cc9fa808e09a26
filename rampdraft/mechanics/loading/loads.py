"""What goes over the ramp: wheeled users as axles, the rated load, and the loads that rules demand."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.rolling_shape import mass_centre_height_mm
from rampdraft.rounding import whole_steps
from rampdraft.units import G_M_S2, KG, MM, Array, N
from rampdraft.words.figures import exact
from rampdraft.words.say import say

FOOT_MM: Final = (90.0, 60.0)
"""Heel or ball of a foot, across and along, that has the whole person on it in a step; common practice."""
NOT_RIDDEN: Final = ("pushchair", "barrow", "sack truck", "hand trolley", "walking frame")
"""Classes of user with nobody in a chair."""
WALKER_KG: Final = 100.0
"""Somebody on foot, who walks on every ramp; common practice."""


CROWD_N_M2: Final = 5000.0
"""Of people who crowd: EN 1991-1-1, 6.3.1, category C5 (from memory)."""

Grades = tuple[float, ...]
"""Rise over going towards the deck, of the slopes that a load is looked at on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Axle:
    """One axle of what rolls, or the feet behind it."""

    offset_mm: MM
    """Behind the first axle, away from the deck."""
    force_n: N
    track_mm: MM
    """Between its wheels; 0 for a single wheel or a person's feet."""
    patch_mm: tuple[MM, MM]
    """Contact of one wheel, (across, along)."""

    @property
    def wheel_n(self) -> N:
        """Return the force of one wheel."""
        return self.force_n / 2 if self.track_mm else self.force_n


@dataclass(frozen=True, slots=True, kw_only=True)
class Rolling:
    """Axles that move over the whole ramp, both ways round."""

    key: str
    words: str
    ways: tuple[tuple[Axle, ...], ...]
    """As they stand on each of the slopes looked at: forwards, then the other way round, for each of them."""
    mass_centre_mm: MM = 0.0
    """Height above the surface; 0 of a single axle, which hands nothing to another."""
    grade: float = 0.0
    """Of the first slope looked at."""
    factor: float = 1.0
    """By which the forces were raised for bumps."""
    demanded: str = ""
    """Key of the limit of a rule that demands it; empty for the use that the design tells."""
    user: int = 0
    """The user of the design that it is, counted from 1; 0 for none."""

    @property
    def axles(self) -> tuple[Axle, ...]:
        """Return the axles forwards on the steepest slope."""
        return self.ways[0]

    @property
    def force_n(self) -> N:
        """Return the whole weight, raised for bumps."""
        return sum(axle.force_n for axle in self.axles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """A load spread over a patch in the middle of the ramp."""

    key: str
    words: str
    force_n: N
    across_mm: MM
    along_mm: MM
    demanded: str = ""
    """Key of the limit of a rule that demands it; empty for the use that the design tells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PerMetre:
    """A load spread over the whole surface, or any stretch of it."""

    key: str
    words: str
    n_mm: float
    demanded: str = ""
    """Key of the limit of a rule that demands it; empty for the use that the design tells."""


Load = Rolling | Footprint | PerMetre


def is_of_use(load: Load) -> bool:
    """Return whether a load is of the use that the design tells, not one that a rule demands."""
    return not load.demanded


def is_of(load: Load, key: str) -> bool:
    """Return whether a load is the one that the limit of this key demands, on whosever wheels."""
    return load.demanded == key


def user_loads(design: Design, grades: Grades) -> Iterator[Rolling]:
    """Yield the wheeled users with their attendants, the rated load and somebody on foot, raised by the
    design's bump factor.
    """
    use, bump = design.use, design.use.bump_factor
    for number, user in enumerate(use.users, start=1):
        load = _user_load(f"user-{number}", user.name, _heavier(user, bump), grades)
        yield replace(load, user=number, factor=bump)
    words = say("rated load, {mass}", mass=exact(use.rated_load_kg, "kg"))
    for load in rolling_kg(design, grades, bump * use.rated_load_kg, "rated", words):
        yield replace(load, factor=bump)
    walker = Axle(offset_mm=0.0, force_n=bump * WALKER_KG * G_M_S2, track_mm=0.0, patch_mm=FOOT_MM)
    words = say("somebody on foot, {mass}", mass=exact(WALKER_KG, "kg"))
    yield Rolling(key="walker", words=words, ways=any_way(walker, grades), factor=bump)


def rolling_kg(design: Design, grades: Grades, mass_kg: KG, key: str, words: str) -> Iterator[Rolling]:
    """Yield a mass on the wheels of each user in turn: key `KEY#2` for the second.

    Nobody knows whose wheels will bring the load, so those of everybody who rides are tried, all of it in the
    chair. Such a load is none of a barrow's or a pushchair's: only where nobody rides they bring it, together
    with whoever pushes. A plain wheelchair brings it where no user is named.
    """
    users = design.use.users
    riders = tuple(replace(user, attendant_kg=0.0) for user in users if user.kind not in NOT_RIDDEN)
    for number, user in enumerate(riders or users or (_plain_user(mass_kg),), start=1):
        alone = _heavier(user, mass_kg / (user.mass_kg + user.attendant_kg))
        on = say("{load}, on the wheels of: {user}", load=words, user=user.name) if users else words
        yield _user_load(f"{key}#{number}", on, alone, grades)


def _user_load(key: str, words: str, user: WheeledUser, grades: Grades) -> Rolling:
    """Return a user on each slope, forwards and the other way round."""
    ways = [axles_of(user, forwards=forwards, grade=grade) for grade in grades for forwards in (True, False)]
    return Rolling(
        key=key, words=words, ways=tuple(ways), mass_centre_mm=mass_centre_mm(user), grade=grades[0]
    )


def any_way(axle: Axle, grades: Grades) -> tuple[tuple[Axle, ...], ...]:
    """Return the ways of a single axle, which all are one."""
    return ((axle,),) * (2 * len(grades))


def axles_of(user: WheeledUser, *, forwards: bool = True, grade: float = 0.0) -> tuple[Axle, ...]:
    """Return a user's axles from the deck outward: forwards the front axle leads up the ramp, backwards the
    attendant does.

    On a slope W h grade / b of the weight moves to the lower one of the outer axles: moments about the
    surface of a rigid body on two axles, W its weight, h the height of its mass centre above the surface, b
    the wheelbase, `grade` rise over going towards the deck. Where the upper axle has no more to give, a
    middle one gives, until all is on the lower one: then the user tips. Attendants stand on their own feet.
    """
    forces, tyre = _level_n(user), (user.tyre_width_mm, user.tyre_contact_mm)
    lower = user.wheelbase_mm if (grade >= 0) is forwards else 0.0
    moment = user.mass_kg * G_M_S2 * mass_centre_mm(user) * abs(grade) if grade else 0.0
    for at in sorted(forces, key=lambda at: -abs(at - lower)) if moment else ():
        if at != lower:
            moved = min(forces[at], moment / abs(at - lower))
            moment -= moved * abs(at - lower)
            forces[at] -= moved
            forces[lower] += moved
    rows = [(at, n, user.rear_track_mm if at else user.front_track_mm, tyre) for at, n in forces.items()]
    if user.attendant_kg:
        force, feet = user.attendant_kg * G_M_S2, user.wheelbase_mm + user.attendant_behind_mm
        if not user.attendant_behind_mm:
            # Whoever holds the handles carries that share of the load on his feet.
            force += rows.pop()[1]
        rows.append((feet, force, 0.0, FOOT_MM))
    if not forwards:
        last = rows[-1][0]
        rows = [(last - at, n, track, patch) for at, n, track, patch in reversed(rows)]
    return tuple(
        [Axle(offset_mm=at, force_n=n, track_mm=track, patch_mm=patch) for at, n, track, patch in rows]
    )


def _level_n(user: WheeledUser) -> dict[MM, N]:
    """Return what a user's axles carry on the level, by how far they are behind the first, from the front."""
    weight = user.mass_kg * G_M_S2
    front, middle = (weight * share / 100 for share in (user.front_share_percent, user.middle_share_percent))
    between = {user.middle_behind_mm: middle} if middle else {}
    return {0.0: front, **between, user.wheelbase_mm: weight - front - middle}


def crowd_kg(design: Design) -> KG:
    """Return the mass of a crowd on both leaves."""
    area = sum(leaf.length_mm * leaf.width_mm for leaf in (design.inner_leaf, design.outer_leaf)) / 1e6
    return CROWD_N_M2 * area / G_M_S2


def persons(design: Design) -> int:
    """Return how many people on foot are within the rated load."""
    return whole_steps(design.use.rated_load_kg, WALKER_KG)


def tips_at(user: WheeledUser) -> tuple[MM, float]:
    """Return the level distance from the lower axle to a user's mass centre, and that over its height: the
    grade at which the user tips over that axle, whichever way round is worse.

    The static angle atan(x / h) of a rigid body on its wheels, brakes on; nobody holds it.
    """
    level = _level_n(user)
    total = sum(level.values())
    arms = (sum(force * abs(at - lower) for at, force in level.items()) for lower in (0.0, user.wheelbase_mm))
    least = min(arms) / total
    return least, least / mass_centre_mm(user)


def ridden(design: Design) -> bool:
    """Return whether somebody rides over the ramp; anybody may where no user is named."""
    users = design.use.users
    return not users or any(user.kind not in NOT_RIDDEN for user in users)


def mass_centre_mm(user: WheeledUser) -> MM:
    """Return the height of a user's mass centre above the surface, as told or as is usual of the class."""
    return mass_centre_height_mm(user)


def lateral_places_mm(design: Design, axles: tuple[Axle, ...]) -> tuple[MM, MM, MM]:
    """Return where the middle of what rolls is, across: against the right edge upstand, in the middle,
    against the left one.
    """
    edge = edge_mm(min(design.inner_leaf.width_mm, design.outer_leaf.width_mm), axles)
    return -edge, 0.0, edge


def edge_mm(width_mm: MM, axles: tuple[Axle, ...]) -> MM:
    """Return how far from the middle of a surface what rolls can go before a tyre is at its edge."""
    return max(0.0, width_mm / 2 - max(axle.track_mm / 2 + axle.patch_mm[0] / 2 for axle in axles))


def lever_shares(lanes_mm: tuple[MM, ...], across: Array) -> Array:
    """Return what each lane takes of a load at a place across, (..., R): lever rule between neighbouring
    lanes.

    Beyond the outer lanes the surface stands out: the last lane takes more than the load, and the one before
    is relieved.
    """
    lanes, count = np.array(lanes_mm), len(lanes_mm)
    # How much of a load is beyond each lane: all of it beyond the first one, none beyond the last.
    beyond = np.ones((*across.shape, count + 1))
    beyond[..., count] = 0.0
    parts = (across[..., None] - lanes[:-1]) / np.diff(lanes)
    parts[..., 1:] = np.maximum(parts[..., 1:], 0.0)
    parts[..., :-1] = np.minimum(parts[..., :-1], 1.0)
    beyond[..., 1:count] = parts
    return beyond[..., :-1] - beyond[..., 1:]


def spread_shares(lanes_mm: tuple[MM, ...], start_mm: MM, end_mm: MM) -> Array:
    """Return what each lane takes of a load spread evenly from `start_mm` to `end_mm` across, (R,): the exact
    mean.
    """
    cuts = sorted({start_mm, end_mm, *(lane for lane in lanes_mm if start_mm < lane < end_mm)})
    middles, widths = (np.array(cuts[1:]) + cuts[:-1]) / 2, np.diff(cuts)
    return widths @ lever_shares(lanes_mm, middles) / (end_mm - start_mm)


def axle_shares(lanes_mm: tuple[MM, ...], tracks_mm: Array, across_mm: Array) -> Array:
    """Return what share each lane takes of each axle, the mean of its two wheels: (D, P, R, K).

    `tracks_mm` (D, K) of D trains with K axles, `across_mm` (D, P): P places across of each train's middle.
    """
    middle, half = across_mm[:, :, None], tracks_mm[:, None, :] / 2
    shares = lever_shares(lanes_mm, np.stack((middle - half, middle + half))).mean(axis=0)
    return shares.swapaxes(2, 3)


def _heavier(user: WheeledUser, factor: float) -> WheeledUser:
    return replace(user, mass_kg=factor * user.mass_kg, attendant_kg=factor * user.attendant_kg)


def _plain_user(mass_kg: KG) -> WheeledUser:
    return WheeledUser(name=say("rated load"), kind="manual wheelchair", mass_kg=mass_kg, width_mm=700)
