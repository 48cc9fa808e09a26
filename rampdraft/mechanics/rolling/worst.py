"""What is worst along the way of one user: figures at every place looked at, and where each is worst."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.rolling.about import Rolling
from rampdraft.mechanics.rolling.bumps import Kinks, kinks, speed_left
from rampdraft.mechanics.rolling.grip import ROAD_VALUE, Going, Traction, brake, drive, friction
from rampdraft.mechanics.rolling.lows import Clear
from rampdraft.mechanics.rolling.resting import Resting
from rampdraft.mechanics.rolling.results import WAYS, WayWorst, Worst
from rampdraft.model.design import Site
from rampdraft.rounding import greatest, greatest_at
from rampdraft.units import G_M_S2, MM, Array

HARD: Final = 0.02
"""Rolling resistance over load on a hard, even surface, the ramp's and the deck's: HSE, pushing and pulling:
at least 2 per cent of the load.
"""
SOFT: Final = 0.10
"""On soft or uneven ground: HSE, same page: up to 10 per cent of the load."""
HANGS_MM: Final = 1.0
"""A wheel that is further off than this hangs; tyres give as much. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Figures at N places."""

    clearance_mm: Array
    which: NDArray[np.intp]
    """Which low part is nearest, (N,)."""
    tip_back_rad: Array
    tip_forward_rad: Array
    forwards_n: Array
    backwards_n: Array
    hangs: NDArray[np.bool_]
    contact_mm: tuple[Array, Array]
    """Contacts of all supports, x and z, both (N, n)."""
    resistance: Array
    """Rolling resistance over load of each support, (N, n)."""
    ground: NDArray[np.bool_]
    """Which supports are on the ground, (N, n)."""


def resistance(site: Site) -> float:
    """Return the rolling resistance of a site's ground over the load: soft where what it bears is told."""
    return SOFT if site.ground_bears_kpa else HARD


def figures_of(rolling: Rolling, site: Site, resting: Resting, clears: list[Clear]) -> Figures:
    """Return the figures at every place."""
    body, shape = rolling.body, rolling.shape
    weight = shape.mass_kg * G_M_S2
    ground = np.stack(
        [
            surface.ground[one.path.point[one.path.piece(resting.x_mm[:, i])]]
            for i, (one, surface) in enumerate(zip(body.supports, rolling.surfaces, strict=True))
        ],
        axis=1,
    )
    crr = np.where(ground, resistance(site), HARD)
    loss = weight * (crr * np.maximum(resting.shares, 0.0)).sum(axis=1)
    every = np.stack([one.clearance_mm for one in clears])
    back, forward = tips(rolling, resting)
    return Figures(
        clearance_mm=every.min(axis=0),
        which=every.argmin(axis=0),
        tip_back_rad=back,
        tip_forward_rad=forward,
        forwards_n=loss - weight * resting.climbing,
        backwards_n=loss + weight * resting.climbing,
        hangs=resting.gaps_mm.max(axis=1) > HANGS_MM,
        contact_mm=contacts(rolling, resting),
        resistance=crr,
        ground=ground,
    )


def tips(rolling: Rolling, resting: Resting) -> tuple[Array, Array]:
    """Return the angles left before it tips back over the contact of its last axle and forward over that of
    its first: atan(level distance / height) of the mass centre, brakes on; NaN where hands hold it.
    """
    centre_x, centre_z = resting.centre(rolling.body)
    if any(axle.held for axle in rolling.shape.axles):
        nothing = np.full_like(centre_x, np.nan)
        return nothing, nothing
    x, z = contacts(rolling, resting)
    axles = np.array([one.axle for one in rolling.body.supports])
    first, last = axles == 0, axles == axles.max()
    level, high = x - centre_x[:, None], centre_z[:, None] - z
    return (
        np.arctan2(level, high)[:, last].min(axis=1),
        np.arctan2(-level, high)[:, first].min(axis=1),
    )


def contacts(rolling: Rolling, resting: Resting) -> tuple[Array, Array]:
    """Return where the supports touch, x and z, both (N, n)."""
    found = [one.path.contact_mm(resting.x_mm[:, i]) for i, one in enumerate(rolling.body.supports)]
    x, z = (np.stack(each, axis=1) for each in zip(*found, strict=True))
    return x, z


def worst_of(
    rolling: Rolling, figures: Figures, resting: Resting, clears: list[Clear], wet_grip: float
) -> dict[str, Any]:
    """Return every worst figure of a `Roll`, by its name, on a surface of a wet pendulum value."""
    found = _Finder(rolling, figures, resting)
    lows = tuple(found.low(number, clear) for number, clear in enumerate(clears))
    held = np.isnan(figures.tip_back_rad[0])
    met = tuple(_kinks(rolling))
    climbs = [list(_bumps(rolling, met, number)) for number in range(2)]
    return {
        "clearance": greatest(lows, lambda one: -one.value),
        "lows": lows,
        "tip_back": None if held else found.pivot(figures.tip_back_rad, -1),
        "tip_forward": None if held else found.pivot(figures.tip_forward_rad, 0),
        "hanging": found.hanging(),
        "drop": _deepest(rolling, met),
        "ways": tuple(
            WayWorst(
                way=way,
                push=found.force(force),
                brake=found.force(np.maximum(-force, 0.0)),
                bump=greatest(bumps, lambda one: one.value) if bumps else None,
                slowed=_slowest(rolling, met, number),
                bumps=tuple(_at_places(bumps)),
                **found.grips(wet_grip, force, forwards=not number),
            )
            for number, (way, force, bumps) in enumerate(
                zip(WAYS[rolling.facing], (figures.forwards_n, figures.backwards_n), climbs, strict=True)
            )
        ),
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Finder:
    rolling: Rolling
    figures: Figures
    resting: Resting

    def worst(self, at: int, values: Array, part: str, x: MM, met: str) -> Worst:
        sign = self.rolling.sign
        return Worst(
            value=float(values[at]),
            x_mm=x * sign,
            front_mm=float(self.resting.front_mm[at]) * sign,
            part=part,
            met=met,
            place=self.rolling.place.of(x * sign),
            across_mm=self.rolling.across_mm,
        )

    def low(self, number: int, clear: Clear) -> Worst:
        (at,) = greatest_at(-clear.clearance_mm)
        below = self.rolling.belows[number]
        met = below.surface.name(int(clear.point[at]))
        return self.worst(at, clear.clearance_mm, below.low.part, float(clear.at_mm[at]), met)

    def at_support(self, at: int, values: Array, support: int) -> Worst:
        path, axle = self.rolling.body.supports[support].path, self.rolling.body.supports[support].axle
        centre = self.resting.x_mm[at : at + 1, support]
        point = int(path.point[path.piece(centre)][0])
        x = float(self.figures.contact_mm[0][at, support])
        part = _part(self.rolling, axle)
        return self.worst(at, values, part, x, self.rolling.surfaces[support].name(point))

    def pivot(self, values: Array, end: int) -> Worst:
        (at,) = greatest_at(-values)
        return self.at_support(at, values, len(self.rolling.body.supports) - 1 if end else 0)

    def force(self, values: Array) -> Worst:
        """Return the greatest force, at the support that climbs most, or falls most, then."""
        (at,) = greatest_at(values)
        work = np.abs(self.resting.slope[at] * np.maximum(self.resting.shares[at], 0.0))
        return self.at_support(at, values, greatest_at(work)[0])

    def grips(self, wet_grip: float, force: Array, *, forwards: bool) -> dict[str, Worst | None]:
        """Return what driven and braked wheels are asked for of what they give, and what lacks, of who goes
        by itself.
        """
        going = Going(
            rolling=self.rolling,
            resting=self.resting,
            resistance=self.figures.resistance,
            friction=_friction(self.figures.ground, wet_grip),
            effort_n=force,
            forwards=forwards,
        )
        drives, brakes = _tractions(going)
        return {
            "grip": None if drives is None else self.force(drives.share),
            "run_up": self._lacking(drives),
            "slide": self._lacking(brakes),
        }

    def _lacking(self, of: Traction | None) -> Worst | None:
        return None if of is None else self.force(_lacks(self.rolling, of))

    def hanging(self) -> Worst | None:
        gaps = self.resting.gaps_mm
        at, support = greatest_at(gaps)
        return None if gaps[at, support] <= HANGS_MM else self.at_support(at, gaps[:, support], support)


def _friction(ground: NDArray[np.bool_], wet_grip: float) -> Array:
    """Return the friction of what is below each support."""
    return np.where(ground, friction(ROAD_VALUE), friction(wet_grip))


def _tractions(going: Going) -> tuple[Traction | None, Traction | None]:
    """Return what driven and braked wheels do, of who goes by itself."""
    shape = going.rolling.shape
    drives = drive(going, shape.driven, shape.drive_n) if shape.by_itself and shape.driven else None
    brakes = brake(going, shape.braked) if shape.by_itself and shape.braked else None
    return drives, brakes


def _lacks(rolling: Rolling, of: Traction) -> Array:
    """Return the speed that makes up for what lacks, (N,)."""
    return np.sqrt(2 * of.short_j / rolling.shape.mass_kg)


def lacking(
    parts: Sequence[tuple[Rolling, Figures, Resting]], wet_grip: float
) -> Iterator[tuple[Worst | None, Worst | None]]:
    """Yield the speed that a user must come with, and that it picks up, going forwards, then backwards, over
    parts of a way that follow one another: what lacks in one is brought to it from those before.
    """
    cuts = [int(np.searchsorted(one[2].front_mm, after[0].start_mm)) for one, after in pairwise(parts)] + [
        len(parts[-1][2].front_mm)
    ]
    whole = Resting.of_parts([one for _, _, one in parts], cuts)
    each = [
        (one.resistance[:cut], one.ground[:cut], (one.forwards_n[:cut], one.backwards_n[:cut]))
        for (_, one, _), cut in zip(parts, cuts, strict=True)
    ]
    resistance = np.concatenate([one for one, _, _ in each])
    ground = np.concatenate([one for _, one, _ in each])
    finders = [_Finder(*part) for part in parts]
    bounds = [*pairwise(accumulate(cuts, initial=0))]
    for number in range(2):
        going = Going(
            rolling=parts[0][0],
            resting=whole,
            resistance=resistance,
            friction=_friction(ground, wet_grip),
            effort_n=np.concatenate([forces[number] for _, _, forces in each]),
            forwards=not number,
        )
        found = _tractions(going)
        speeds = [None if one is None else _lacks(parts[0][0], one) for one in found]
        run_up, slide = (
            None
            if speed is None
            else greatest(
                [finder.force(speed[a:b]) for finder, (a, b) in zip(finders, bounds, strict=True)],
                lambda one: one.value,
            )
            for speed in speeds
        )
        yield run_up, slide


def _part(rolling: Rolling, axle: int) -> str:
    one = rolling.shape.axles[axle]
    return "feet" if one.held else f"{one.name} wheel"


_Met = tuple[tuple[int, Kinks], ...]
"""The kinks of each way, by the number of a support."""


def _kinks(rolling: Rolling) -> Iterator[tuple[int, Kinks]]:
    """Yield the kinks of each wheel's way, each way once; feet meet none."""
    seen: set[tuple[int, int]] = set()
    for number, one in enumerate(rolling.body.supports):
        if rolling.shape.axles[one.axle].held or (one.axle, id(one.path)) in seen:
            continue
        seen.add((one.axle, id(one.path)))
        yield number, kinks(one.path)


def _reached(rolling: Rolling, number: int, found: Kinks) -> NDArray[np.intp]:
    """Return which kinks a support comes to."""
    behind = rolling.body.supports[number].behind_mm
    return np.flatnonzero((found.x_mm > rolling.start_mm + behind) & (found.x_mm < rolling.end_mm + behind))


def _at_kink(rolling: Rolling, number: int, found: Kinks, k: int, value: float, *, right: bool) -> Worst:
    one, sign = rolling.body.supports[number], rolling.sign
    surface = rolling.surfaces[number]
    point, x = int(found.points[right][k]), float(found.contacts_mm[right][k]) * sign
    return Worst(
        value=value,
        x_mm=x,
        front_mm=float(found.x_mm[k] - one.behind_mm) * sign,
        part=_part(rolling, one.axle),
        met=surface.name(point),
        place=rolling.place.of(x),
        across_mm=rolling.across_mm,
    )


def _bumps(rolling: Rolling, met: _Met, way: int) -> Iterator[Worst]:
    """Yield every kink that a wheel climbs, going forwards (0), to -x, or backwards (1)."""
    for number, found in met:
        shares = (found.to_left, found.to_right)[way]
        for k in _reached(rolling, number, found).tolist():
            if shares[k] > 0:
                yield _at_kink(rolling, number, found, k, float(shares[k]), right=bool(way))


def _at_places(bumps: list[Worst]) -> Iterator[Worst]:
    for place in ("edge", "joint", "toe"):
        there = [one for one in bumps if one.place == place]
        if there:
            yield greatest(there, lambda one: one.value)


def _slowest(rolling: Rolling, met: _Met, way: int) -> Worst | None:
    """Return the kink that takes most of the speed, as the share that is left."""
    found: list[Worst] = []
    for number, each in met:
        reached = _reached(rolling, number, each)
        if not reached.size:
            continue
        share = rolling.shape.axles[rolling.body.supports[number].axle].share
        left = np.where(each.turn_rad < np.pi / 2, speed_left(each.turn_rad, share), 0.0)
        k = int(reached[greatest_at(-left[reached])[0]])
        found.append(_at_kink(rolling, number, each, k, float(left[k]), right=bool(way)))
    return greatest(found, lambda one: -one.value) if found else None


def _deepest(rolling: Rolling, met: _Met) -> Worst | None:
    found: list[Worst] = []
    for number, each in met:
        reached = _reached(rolling, number, each)
        if reached.size and each.drop_mm[reached].max() > 0:
            k = int(reached[greatest_at(each.drop_mm[reached])[0]])
            found.append(_at_kink(rolling, number, each, k, float(each.drop_mm[k]), right=True))
    return greatest(found, lambda one: one.value) if found else None
