"""Wheeled users as shapes: the catalogue of their classes, and one user with everything that it leaves to its
class filled in.

Lengths along are measured back from the front axle, heights up from the surface it stands on.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, fields, replace
from functools import cache, lru_cache
from typing import Final

from rampdraft.model.catalogue import rows_of
from rampdraft.model.design import AxleChoice, AxleName, UserClass, WheeledUser
from rampdraft.units import KG, MM, N

LEAST_RADIUS_MM: Final = 10.0
"""No wheel is smaller."""
NOWHERE_MM: Final = 600.0
"""A height that says: there is none of it."""
FOOT_RADIUS_MM: Final = 250.0
"""A foot passes over gaps and edges as a wheel of this radius would: people walk with the hands that carry
the rear of a barrow level; common practice.
"""
COMMON: Final = "common practice"
BY_HAND: Final = ("self-propelled wheelchair", "lightweight wheelchair")
"""Classes whose driven wheels are turned by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UserClassRow:
    """A class of wheeled user, with every value of its shape and where it was read.

    Of `WheeledUser`, by the same names; 0 of what it has none of.
    """

    kind: UserClass
    mass_kg: KG
    width_mm: MM
    wheelbase_mm: MM
    front_share_percent: float
    mass_centre_height_mm: MM
    front_track_mm: MM
    rear_track_mm: MM
    tyre_width_mm: MM
    tyre_contact_mm: MM
    front_radius_mm: MM
    rear_radius_mm: MM
    underside_mm: MM
    driven: AxleChoice
    braked: AxleChoice
    attendant_kg: KG = 0.0
    attendant_behind_mm: MM = 500.0
    middle_share_percent: float = 0.0
    middle_behind_mm: MM = 0.0
    middle_radius_mm: MM = 0.0
    front_tyre_mm: MM = 0.0
    footrest_ahead_mm: MM = 0.0
    footrest_height_mm: MM = 0.0
    footrest_depth_mm: MM = 0.0
    anti_tip_behind_mm: MM = 0.0
    anti_tip_height_mm: MM = 0.0
    push_height_mm: MM = 0.0
    drive_n: N = 0.0
    head_height_mm: MM = 0.0
    sources: dict[str, str] = field(default_factory=dict)
    """Of the values that were read somewhere; all others are common practice."""

    def source(self, name: str) -> str:
        """Return where a value is from."""
        return self.sources.get(name, COMMON)


@dataclass(frozen=True, slots=True, kw_only=True)
class Low:
    """A level part of the body that hangs low: footrests, underside, anti-tip wheels."""

    part: str
    """`footrest`, `underside`, `anti-tip wheels`."""
    from_mm: MM
    to_mm: MM
    """Behind the front axle; below 0 ahead of it."""
    height_mm: MM
    half_width_mm: MM
    """How far it reaches to either side of the middle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeAxle:
    """An axle, or the hands that carry where there is none."""

    name: AxleName
    behind_mm: MM
    radius_mm: MM
    track_mm: MM
    """0 for a single wheel, or for hands."""
    tyre_mm: MM
    share: float
    """Of the mass, on the level."""
    held: bool = False
    """Carried by the hands of whoever walks behind, on whose feet it moves."""

    @property
    def sides_mm(self) -> tuple[MM, ...]:
        """Return where its wheels are across, from the right to the left of somebody who walks down."""
        return (-self.track_mm / 2, self.track_mm / 2) if self.track_mm else (0.0,)


@dataclass(frozen=True, slots=True, kw_only=True)
class RollingShape:
    """A wheeled user with every value known."""

    name: str
    kind: UserClass
    mass_kg: KG
    width_mm: MM
    attendant_kg: KG
    axles: tuple[ShapeAxle, ...]
    """From the front."""
    centre_behind_mm: MM
    """Mass centre behind the front axle."""
    centre_height_mm: MM
    lows: tuple[Low, ...]
    push_height_mm: MM
    """Of the handles; 0 for none."""
    driven: AxleName | None
    """None for one that is pushed."""
    braked: AxleName | None
    """None for one that hands hold back."""
    attendant_behind_mm: MM = 0.0
    """From the last axle to the feet of whoever pushes."""
    drive_n: N = 0.0
    """Greatest push of the driven wheels; 0 where it is not known."""
    head_height_mm: MM = 0.0
    """Of whoever sits in it, or of the load; 0 for nobody."""

    @property
    def wheelbase_mm(self) -> MM:
        """Return the length from the first axle to the last, or to the hands."""
        return self.axles[-1].behind_mm

    @property
    def powered(self) -> bool:
        """Return whether a motor drives it."""
        return self.driven is not None and self.kind not in BY_HAND

    @property
    def by_itself(self) -> bool:
        """Return whether its own wheels take it over the ramp and hold it: nobody pushes it."""
        return self.powered or (self.driven is not None and not self.attendant_kg)

    @property
    def widest_mm(self) -> MM:
        """Return how wide it is over its tyres."""
        return max(axle.track_mm + axle.tyre_mm for axle in self.axles)

    @property
    def wheels(self) -> int:
        """Return how many wheels it stands on."""
        return sum(len(axle.sides_mm) for axle in self.axles if not axle.held)


@cache
def user_classes() -> dict[UserClass, UserClassRow]:
    """Return the classes by their names."""
    rows = [UserClassRow(**row) for row in rows_of("users", "class")]
    return {row.kind: row for row in rows}


_NAMES: Final = tuple(info.name for info in fields(WheeledUser) if info.name not in ("name", "kind"))


def of_class(name: str, kind: UserClass) -> WheeledUser:
    """Return a user who is as the class is in everything, all values written out."""
    row = user_classes()[kind]
    return WheeledUser(name=name, kind=kind, **{each: getattr(row, each) for each in _NAMES})


def own_values(user: WheeledUser) -> tuple[str, ...]:
    """Return the names of the values that are neither left to the class nor as the class has them."""
    usual, blank = of_class(user.name, user.kind), ("class", 0.0)
    return tuple(
        name
        for name in _NAMES
        if (value := getattr(user, name)) != getattr(usual, name)
        and not (name in _LEFT_TO_CLASS and value in blank)
    )


_LEFT_TO_CLASS: Final = (
    "mass_centre_height_mm", "front_radius_mm", "middle_radius_mm", "rear_radius_mm", "front_tyre_mm",
    "underside_mm", "footrest_ahead_mm", "footrest_height_mm", "footrest_depth_mm", "anti_tip_behind_mm",
    "anti_tip_height_mm", "push_height_mm", "driven", "braked", "head_height_mm",
)  # fmt: skip


def as_class(user: WheeledUser, kind: UserClass, *, keep: bool) -> WheeledUser:
    """Return a user with another class, all values filled in as they are of it; with `keep` the user's own
    values stay.
    """
    own = {name: getattr(user, name) for name in own_values(user)} if keep else {}
    return replace(of_class(user.name, kind), **own)


def left_to_class(user: WheeledUser, name: str) -> float | str | None:
    """Return what a value is where it is left to the class; None for a value that cannot be left to it.

    Middle wheels of which the class says nothing are as the rear ones, and front tyres as the others.
    """
    if name not in _LEFT_TO_CLASS:
        return None
    usual = getattr(user_classes()[user.kind], name)
    match name:
        case "middle_radius_mm":
            return usual or told(user, "rear_radius_mm")
        case "front_tyre_mm":
            return usual or user.tyre_width_mm
        case _:
            return usual


def told(user: WheeledUser, name: str) -> float:
    """Return a number of a user's, as told or as it is of the class."""
    usual = left_to_class(user, name)
    return getattr(user, name) or (0.0 if usual is None or isinstance(usual, str) else usual)


def mass_centre_height_mm(user: WheeledUser) -> MM:
    """Return the height of a user's mass centre, as told or as is usual of the class."""
    return told(user, "mass_centre_height_mm")


@lru_cache(maxsize=256)
def shape_of(user: WheeledUser) -> RollingShape:
    """Return the shape of a user, what it leaves to its class filled in."""
    row = user_classes()[user.kind]

    axles = _axles(user)
    names: list[AxleName] = [axle.name for axle in axles if not axle.held]
    driven = row.driven if user.driven == "class" else user.driven
    braked = row.braked if user.braked == "class" else user.braked
    return RollingShape(
        name=user.name,
        kind=user.kind,
        mass_kg=user.mass_kg,
        width_mm=user.width_mm,
        attendant_kg=user.attendant_kg,
        axles=axles,
        centre_behind_mm=sum(axle.share * axle.behind_mm for axle in axles),
        centre_height_mm=mass_centre_height_mm(user),
        lows=tuple(_lows(user, axles)),
        push_height_mm=told(user, "push_height_mm"),
        driven=next((name for name in names if name == driven), None),
        braked=next((name for name in names if name == braked), None),
        attendant_behind_mm=user.attendant_behind_mm,
        drive_n=user.drive_n,
        head_height_mm=told(user, "head_height_mm"),
    )


def _axles(user: WheeledUser) -> tuple[ShapeAxle, ...]:
    front, middle = user.front_share_percent / 100, user.middle_share_percent / 100
    held = user.attendant_kg > 0 and not user.attendant_behind_mm
    axles = [
        ShapeAxle(
            name="front",
            behind_mm=0.0,
            radius_mm=told(user, "front_radius_mm"),
            track_mm=user.front_track_mm,
            tyre_mm=told(user, "front_tyre_mm"),
            share=front,
        )
    ]
    if middle:
        axles.append(
            ShapeAxle(
                name="middle",
                behind_mm=user.middle_behind_mm,
                radius_mm=told(user, "middle_radius_mm"),
                track_mm=user.rear_track_mm,
                tyre_mm=user.tyre_width_mm,
                share=middle,
            )
        )
    axles.append(
        ShapeAxle(
            name="rear",
            behind_mm=user.wheelbase_mm,
            radius_mm=FOOT_RADIUS_MM if held else told(user, "rear_radius_mm"),
            track_mm=0.0 if held else user.rear_track_mm,
            tyre_mm=0.0 if held else user.tyre_width_mm,
            share=1 - front - middle,
            held=held,
        )
    )
    return tuple(axles)


def _lows(user: WheeledUser, axles: tuple[ShapeAxle, ...]) -> Iterator[Low]:
    """Yield what hangs low: between the wheels of the axles it lies between."""
    inside = [(axle.track_mm - axle.tyre_mm) / 2 for axle in axles if axle.track_mm]
    widest = max(inside, default=0.0)
    front = inside[0] if axles[0].track_mm else widest
    ahead, depth = told(user, "footrest_ahead_mm"), told(user, "footrest_depth_mm")
    last = axles[-1].behind_mm
    parts = (
        ("footrest", -ahead, depth - ahead, told(user, "footrest_height_mm"), front),
        ("underside", 0.0, last, told(user, "underside_mm"), widest),
        ("anti-tip wheels", last + told(user, "anti_tip_behind_mm"), last + told(user, "anti_tip_behind_mm"),
         told(user, "anti_tip_height_mm"), widest),
    )  # fmt: skip
    for part, start, end, height, half in parts:
        if part == "underside" or (0 < height < NOWHERE_MM and (start < 0 or start > last)):
            yield Low(
                part=part, from_mm=start, to_mm=end, height_mm=height, half_width_mm=max(half, _LEAST_HALF_MM)
            )


_LEAST_HALF_MM: Final = 50.0
"""Half of the width in which something hangs low, where the wheels leave no room between them."""
