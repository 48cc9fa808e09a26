"""Welds that tire: how many crossings they bear. Steel by EN 1993-1-9.

A crossing brings each weld from nothing to the most that its user brings, bumps with it, and back: one
range of stress. That the axles of one user bring more than one is left out, their distance being a small
part of the span. The ramp's own weight goes on all the time and tires nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.figures import mpa, number
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.loading.loads import Load, Rolling, is_of_use
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf
from rampdraft.prose import Lines
from rampdraft.rounding import greatest_at
from rampdraft.strength.formula import Formula, Symbol, factor
from rampdraft.strength.knuckles import KnuckleWelds
from rampdraft.strength.members import Members
from rampdraft.strength.rails import Rails
from rampdraft.strength.stop import Stops
from rampdraft.units import MM, MPA, Array, ArrayRecord

CLAUSE: Final = "EN 1993-1-9, 7.1, tables 8.4, 8.5"
GAMMA_MF: Final = 1.15
"""EN 1993-1-9, table 3.1 (from memory): looked at again and again, where people can be hurt."""
ROOT: Final = 36.0
"""EN 1993-1-9, table 8.5, detail 3: the root of a fillet weld, by the stress on its throat."""
_TOES: Final = ((50.0, 80.0), (80.0, 71.0), (100.0, 63.0), (np.inf, 56.0))
"""EN 1993-1-9, tables 8.4 and 8.5, detail 1: a wall at the toe of a weld across it, by the length of what is
welded on; beyond 120 mm of walls up to 20 mm.
"""
FULL: Final = 2e6
KNEE: Final = 5e6
LAST: Final = 1e8
_KNEE_PART: Final = (FULL / KNEE) ** (1 / 3)
_LAST_PART: Final = _KNEE_PART * (KNEE / LAST) ** (1 / 5)
_HAIR: Final = 1e-9
"""A range less than the cut-off by this part only is at it, and tires: rounding decides nothing."""
NO_END: Final = 1e9
"""Told of a range so small that it tires nothing."""


def crossings(value: float) -> str:
    """Return a number of crossings, rounded as it deserves: `24 000`."""
    if value >= NO_END:
        return "without end"
    step = 10 ** max(0, len(str(int(value))) - 3)
    return f"{int(value // step * step):,}".replace(",", " ")


_RANGE, _GAMMA = Symbol("ds", mpa), Symbol("gMf", factor)
LIFE: Final = Formula(FULL * (Symbol("dsC", mpa) / (_GAMMA * _RANGE)) ** 3, crossings, CLAUSE)
"""Crossings up to 5 million, of a detail of category dsC under the range ds."""
LONG_LIFE: Final = Formula(KNEE * (Symbol("dsD", mpa) / (_GAMMA * _RANGE)) ** 5, crossings, CLAUSE)
"""Crossings beyond 5 million, where dsD is 0.737 of the category; none tire below 0.405 of it."""


def life(category: Array | float, range_mpa: Array) -> Array:
    """Return how many times each range of stress is borne, (...); `inf` where it tires nothing."""
    part = np.maximum(GAMMA_MF * range_mpa / category, 1e-9)
    found = np.where(part > _KNEE_PART, FULL / part**3, KNEE * (_KNEE_PART / part) ** 5)
    return np.where(part > _LAST_PART * (1 - _HAIR), found, np.inf)


def toe_category(length_mm: MM) -> MPA:
    """Return the category of a wall at a weld across it, by the length of what is welded on."""
    return next(category for most, category in _TOES if length_mm <= most)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wear(ArrayRecord):
    """A weld, or what it is welded on, under each user of the ramp, U of them."""

    key: str
    title: str
    subject: str
    leaf: OnLeaf
    member: str
    place: str
    """Words of the detail."""
    category: float
    range_mpa: Array
    """(U,)."""
    users: tuple[str, ...]

    @property
    def crossings(self) -> float:
        """Return how many crossings it bears, each user as often as the others.

        Palmgren and Miner: the parts of each user's life that are used add up to 1 (EN 1993-1-9, annex A).
        """
        used = float((1 / life(self.category, self.range_mpa)).mean())
        return min(1 / used, NO_END) if used else NO_END

    def lines(self) -> Lines:
        """Return the lines of the working, with the user who tires it most."""
        (at,) = greatest_at(self.range_mpa)
        most = float(self.range_mpa[at])
        part = GAMMA_MF * most / self.category
        words = f"{self.place}: category {number(self.category)}"
        if part > _KNEE_PART:
            found = LIFE.of(self.category, GAMMA_MF, most).line
        else:
            found = LONG_LIFE.of(_KNEE_PART * self.category, GAMMA_MF, most).line
        alone = f"N = {found}" if part > _LAST_PART * (1 - _HAIR) else "so small a range tires nothing"
        return (
            f"most by {self.users[at]}: range of stress ds = {mpa(most)}",
            words,
            alone,
            f"users in turn: {len(self.users)}; mean of 1 / N: {crossings(self.crossings)} crossings",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownWear:
    """A weld whose life is not judged, and why."""

    key: str
    title: str
    subject: str
    leaf: OnLeaf
    why: str


def wear(design: Design, carried: Carried, strengths: Members) -> Iterator[Wear | UnknownWear]:
    """Yield how welds tire: of knuckles, stop bars, and rails where cross members are welded to them.

    Each crossing is one of the users named, in turn; where none is named, one of the rated load.
    """
    loads = _who(carried.loads)
    words = tuple(strengths.words[number] for number in loads)
    for family, part in strengths.parts:
        found = None
        if isinstance(part, KnuckleWelds | Stops):
            found = _at_weld(part, list(loads))
        elif isinstance(part, Rails):
            leaf = design.inner_leaf if part.body == "inner" else design.outer_leaf
            found = _on_rail(leaf, part, list(loads), welded=_welded(design, leaf))
        if found is None:
            continue
        about = {"key": family.key, "title": f"{family.title}: crossings", "subject": family.subject}
        kinds = {
            material_named(design, name).kind for name in (design.made_of.rails, design.made_of.fittings)
        }
        if kinds != {"steel"}:
            why = "Only steel is judged for crossings: EN 1999-1-3 is not among the standards known here."
            yield UnknownWear(**about, leaf=family.leaf, why=why)
            continue
        place, category, ranges = found
        yield Wear(
            **about, leaf=family.leaf, member=family.member, place=place, category=category, range_mpa=ranges,
            users=words,
        )  # fmt: skip


def _who(loads: tuple[Load, ...]) -> tuple[int, ...]:
    """Return the indices of the users named, or of the rated load where none is."""
    rolling = [(number, load) for number, load in enumerate(loads) if isinstance(load, Rolling)]
    users = tuple(number for number, load in rolling if load.user)
    return users or tuple(number for number, load in rolling if is_of_use(load))


def _welded(design: Design, leaf: Leaf) -> bool:
    cross = material_named(design, design.made_of.cross_members)
    return bool(leaf.cross_positions_mm) and leaf.cross_fitting != "half_lap" and cross.kind == "steel"


def _at_weld(part: KnuckleWelds | Stops, loads: list[int]) -> tuple[str, float, Array]:
    """Return the worse of throat and wall beside it, with its category and range."""
    a_mm = part.range_n_mm(loads)
    root = "root of the weld, stress on its throat", ROOT, a_mm / part.throat_mm
    walls = [section.wall_mm for _, section in part.ends if section.wall_mm]
    if not walls:
        return root
    category = toe_category(part.along_mm)
    toe = "wall beside the weld", category, a_mm / min(walls)
    return max(root, toe, key=lambda one: float(one[2].max()) / one[1])


def _on_rail(leaf: Leaf, rails: Rails, loads: list[int], *, welded: bool) -> tuple[str, float, Array] | None:
    if not welded or rails.material.kind == "timber":
        return None
    at = np.array(leaf.cross_positions_mm)
    stresses = rails.moment_nmm[loads].max(axis=1) / rails.modulus_mm3
    # The sections are at every cross member, among other places.
    places = np.abs(rails.along_mm[:, None] - at).argmin(axis=0)
    ranges = stresses[:, places].max(axis=1)
    return "rail where a cross member is welded to it", toe_category(leaf.cross_section.width_mm), ranges
