"""What tires: how many crossings welds, slats and edge upstands bear. Steel by EN 1993-1-9, aluminium by EN
1999-1-3.

A crossing brings each weld from nothing to the most that its user brings, bumps with it, and back: one
range of stress. That the axles of one user bring more than one is left out, their distance being a small
part of the span; a slat, and what holds it, meets each axle by itself. The ramp's own weight goes on all the
time and tires nothing. Left out: timber and plastics, screws, and welds of several metals.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.loading.loads import Load, Rolling, is_of_use
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import greatest, greatest_at
from rampdraft.strength.curves import NO_END, Detail, Metal, crossings, root, toe
from rampdraft.strength.fixings import Fixings
from rampdraft.strength.guards import Guards
from rampdraft.strength.knuckles import KnuckleWelds
from rampdraft.strength.members import Members
from rampdraft.strength.rails import Rails
from rampdraft.strength.stop import Stops
from rampdraft.strength.surface import Boards
from rampdraft.strength.tiring_surface import Stressed, at_fixing, at_guard, at_slat
from rampdraft.strength.utilisation import Family, Judged, Unknown
from rampdraft.units import Array, ArrayRecord
from rampdraft.words.figures import mpa, number
from rampdraft.words.prose import Lines
from rampdraft.words.say import say

_UNKNOWN = "Only welds of steel, and those of aluminium, are judged for crossings."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wear(ArrayRecord):
    """A weld, or what it is welded on, or a plate, under each user of the ramp, U of them."""

    key: str
    title: str
    subject: str
    leaf: OnLeaf
    member: str
    detail: Detail
    range_mpa: Array
    """(U,)."""
    times: Array
    """How often at each crossing, (U,)."""
    users: tuple[str, ...]

    @property
    def crossings(self) -> float:
        """Return how many crossings it bears, each user as often as the others.

        Palmgren and Miner: the parts of each user's life that are used add up to 1 (EN 1993-1-9, annex A;
        EN 1999-1-3, 2.2).
        """
        used = float((self.times / self.detail.life(self.range_mpa)).mean())
        return min(1 / used, NO_END) if used else NO_END

    def lines(self) -> Lines:
        """Return the lines of the working, with the user who tires it most."""
        (at,) = greatest_at(self.range_mpa)
        most, times = float(self.range_mpa[at]), float(self.times[at])
        often = say(", {times} times at each crossing", times=number(times)) if times != 1 else ""
        return (
            say("most by {user}: range of stress ds = {range}", user=self.users[at], range=mpa(most)),
            say(
                "{detail}: category {category}",
                detail=self.detail.words,
                category=number(self.detail.category),
            ),
            f"{self.detail.line(most)}{often}",
            say(
                "users in turn: {count}; mean of 1 / N: {crossings} crossings",
                count=len(self.users),
                crossings=crossings(self.crossings),
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownWear:
    """A weld whose life is not judged, and why."""

    key: str
    title: str
    subject: str
    leaf: OnLeaf
    why: str


def wear(
    design: Design, carried: Carried, strengths: Members, fixed: Members
) -> Iterator[Wear | UnknownWear]:
    """Yield how welds tire, of knuckles, stop bars, and rails where cross members are welded to them; then
    slats, what holds them, and edge upstands.

    Each crossing is one of the users named, in turn; where none is named, one of the rated load.
    """
    users = list(_who(carried.loads))
    words = tuple(strengths.words[number] for number in users)
    for family, part in (*strengths.parts, *fixed.parts):
        found = _stressed(design, carried.loads, users, family, part)
        if found is None:
            continue
        about = {
            "key": family.key,
            "title": say("{title}: crossings", title=family.title),
            "subject": family.subject,
        }
        if isinstance(found, str):
            yield UnknownWear(**about, leaf=family.leaf, why=found)
            continue
        worn = [
            Wear(
                **about, leaf=family.leaf, member=family.member, detail=one.detail, range_mpa=one.range_mpa,
                times=one.times, users=words,
            )
            for one in found
        ]  # fmt: skip
        yield greatest(worn, lambda one: -one.crossings)


def _stressed(
    design: Design, loads: tuple[Load, ...], users: list[int], family: Family, part: Judged | Unknown
) -> list[Stressed] | str | None:
    """Return what tires of a family, or why it is not known; None where nothing does."""
    found: list[Stressed] = []
    leaf = design.outer_leaf if family.leaf == "outer" else design.inner_leaf
    match part:
        case KnuckleWelds() | Stops():
            metal = _metal(design, design.made_of.rails, design.made_of.fittings)
            return _at_weld(part, users, metal) if metal else say(_UNKNOWN)
        case Rails():
            welded = _welded(design, leaf)
            if not welded or part.material.kind == "timber":
                return None
            metal = _metal(design, design.made_of.rails, design.made_of.cross_members)
            return [_on_rail(leaf, part, users, metal)] if metal else say(_UNKNOWN)
        case Boards() if not part.plate:
            found = at_slat(part, leaf, _left(design, leaf), (loads, users))
        case Fixings():
            found = at_fixing(part, (loads, users))
        case Guards():
            found = at_guard(part, users)
        case _:
            pass
    return found or None


def _who(loads: tuple[Load, ...]) -> tuple[int, ...]:
    """Return the indices of the users named, or of the rated load where none is."""
    rolling = [(number, load) for number, load in enumerate(loads) if isinstance(load, Rolling)]
    users = tuple(number for number, load in rolling if load.user)
    return users or tuple(number for number, load in rolling if is_of_use(load))


def _metal(design: Design, *names: str) -> Metal | None:
    """Return the metal that all of these are of; None where they are of several, or of none."""
    kinds = {material_named(design, name).kind for name in names}
    return "steel" if kinds == {"steel"} else "aluminium" if kinds == {"aluminium"} else None


def _welded(design: Design, leaf: Leaf) -> bool:
    cross = material_named(design, design.made_of.cross_members)
    metal = cross.kind in ("steel", "aluminium")
    return bool(leaf.cross_positions_mm) and leaf.cross_fitting != "half_lap" and metal


def _left(design: Design, leaf: Leaf) -> float:
    """Return what part of a slat its screw holes leave."""
    holes = (2 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 1) * design.workshop.slat_screw_mm
    return max(1 - holes / leaf.slat_width_mm, 0.01)


def _at_weld(part: KnuckleWelds | Stops, users: list[int], metal: Metal) -> list[Stressed]:
    """Return throat and wall beside it."""
    a_mm, once = part.range_n_mm(users), np.ones(len(users))
    found = [Stressed(detail=root(metal), range_mpa=a_mm / part.throat_mm, times=once)]
    walls = [section.wall_mm for _, section in part.ends if section.wall_mm]
    if walls:
        beside = toe(metal, say("wall beside the weld"), part.along_mm, min(walls))
        found.append(Stressed(detail=beside, range_mpa=a_mm / min(walls), times=once))
    return found


def _on_rail(leaf: Leaf, rails: Rails, users: list[int], metal: Metal) -> Stressed:
    at = np.array(leaf.cross_positions_mm)
    stresses = rails.moment_nmm[users].max(axis=1) / rails.modulus_mm3
    # The sections are at every cross member, among other places.
    places = np.abs(rails.along_mm[:, None] - at).argmin(axis=0)
    words, thick = (
        say("rail where a cross member is welded to it"),
        rails.section.wall_mm or rails.section.width_mm,
    )
    detail = toe(metal, words, leaf.cross_section.width_mm, thick)
    return Stressed(detail=detail, range_mpa=stresses[:, places].max(axis=1), times=np.ones(len(users)))
