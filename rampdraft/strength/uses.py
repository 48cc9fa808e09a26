"""How much of its strength a member uses, and what is needed to say so."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.errors import StrengthUnknownError
from rampdraft.figures import mm, number
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.loading.beam import Array
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.basis import Basis
from rampdraft.strength.joining import fillet_mpa
from rampdraft.strength.metal import metal_strength_mpa
from rampdraft.units import MPA, N

FOLDS: Final = "Nothing holds the joint: the load folds the ramp before this can be judged."


Work = Callable[[], tuple[str, ...]]
"""Writes the working; only that of what is shown is written, since words take longer than the sums."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberUse:
    """How much of its strength one family of members uses, at its worst place."""

    key: str
    """Joins the check's id: `inner-rails`."""
    title: str
    subject: str
    ratio: float
    """Of the strength; it grows with the load as the load does, so that its inverse is a factor."""
    working: Work
    clause: str
    member: str
    """Key of the member it speaks of."""
    load: str
    """Words of the load that governs."""
    leaf: OnLeaf = ""
    """The leaf that the whole family is on; empty for one at the joint, at the deck or apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownUse:
    """A family of members that cannot be judged, and why."""

    key: str
    title: str
    subject: str
    why: str
    clause: str = ""
    member: str = ""
    leaf: OnLeaf = ""


Found = MemberUse | UnknownUse


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is judged: a design under some of its loads, on one basis."""

    design: Design
    carried: Carried
    basis: Basis
    loads: tuple[int, ...]
    """Indices of `carried.loads`."""

    def material(self, name: str) -> Material:
        """Return a material by its name."""
        return material_named(self.design, name)

    def governed(self, own: float, forces: Array) -> tuple[float, int, int]:
        """Return (effect, load, part) of the worst load and part, own weight added with its factor; `forces`
        (L, P).
        """
        chosen = forces[list(self.loads)]
        row, part = greatest_at(chosen)
        return self.effect(own, float(chosen[row, part])), self.loads[row], part

    def effect(self, own: float, load: float) -> float:
        """Return an effect with the factors of the basis on own weight and load."""
        return self.basis.gamma_g * own + self.basis.gamma_q * load

    def words(self, load: int) -> str:
        """Return the words of a load, with the bump factor in it."""
        found = self.carried.loads[load]
        factor = getattr(found, "factor", 1.0)
        return f"{found.words}, bumps x {number(factor, 2)}" if factor != 1 else found.words

    def sum_words(self, own: str, load: str) -> str:
        """Return the sum of an effect as it is worked: `1.35 x 55 N m + 1.5 x 999 N m`."""
        return f"{number(self.basis.gamma_g, 2)} x {own} + {number(self.basis.gamma_q, 2)} x {load}"


Result = tuple[float, Work, str, int] | str
"""Ratio, working, clause and index of the load that governs; or why it cannot be judged."""


@dataclass(frozen=True, slots=True)
class Family:
    """A family of members, and the function that finds what it uses."""

    key: str
    title: str
    subject: str
    member: str
    measure: Callable[[], Result]
    leaf: OnLeaf = ""


def uses_of(job: Job, families: Iterable[Family]) -> Iterator[Found]:
    """Yield what each family uses; one whose material lacks a strength cannot be judged."""
    for one in families:
        try:
            result = one.measure()
        except StrengthUnknownError as unknown:
            result = str(unknown)
        if isinstance(result, str):
            yield UnknownUse(
                key=one.key,
                title=one.title,
                subject=one.subject,
                why=result,
                member=one.member,
                leaf=one.leaf,
            )
        else:
            ratio, work, clause, load = result
            yield MemberUse(
                key=one.key,
                title=one.title,
                subject=one.subject,
                ratio=ratio,
                working=work,
                clause=clause,
                member=one.member,
                load=job.words(load),
                leaf=one.leaf,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """What a mm of fillet weld bears: its throat, or the wall that it sits on where that is weaker."""

    n_mm: float
    words: str


def seam(job: Job, *parents: tuple[Material, Section]) -> Seam | str:
    """Return what the design's fillet weld bears between these parts, or why they are not welded.

    EN 1993-1-8, 4.5.3.3 for the throat; a wall of a hollow section gives t f / sqrt 3 (EN 1993-1-1, 6.2.6),
    however thick the weld is.
    """
    kinds = {material.kind for material, _ in parents}
    if len(kinds) > 1 or not kinds <= {"steel", "aluminium"}:
        return (
            f"{' and '.join(sorted(kinds)).capitalize()} cannot be welded together; no other way to join them"
            " is judged."
        )
    throat = job.design.joining.weld_throat_mm
    found = [(fillet_mpa(material, job.basis), throat, "throat") for material, _ in parents]
    found += [
        (metal_strength_mpa(material, job.basis, welded=True) / math.sqrt(3), section.wall_mm, "wall")
        for material, section in parents
        if section.wall_mm
    ]
    strength, thick, what = min(found, key=lambda one: one[0] * one[1])
    return Seam(n_mm=strength * thick, words=f"{what} {mm(thick)} x {mpa(strength)}")


def nm(value_nmm: float) -> str:
    """Return a moment: `999 N m`."""
    return f"{number(value_nmm / 1000, 0 if abs(value_nmm) >= 1e5 else 1)} N m"


def newton(value_n: N) -> str:
    """Return a force: `1240 N`, `24.1 kN`."""
    return f"{number(value_n / 1000, 1)} kN" if abs(value_n) >= 1e4 else f"{number(value_n, 0)} N"


def mpa(value: MPA) -> str:
    """Return a stress: `87.3 MPa`."""
    return f"{number(value, 1)} MPa"


def worst_last(*found: tuple[float, tuple[str, ...]]) -> tuple[str, ...]:
    """Return the lines of several ways to fail, each with its ratio, the worst one last."""
    return tuple(line for _, lines in sorted(found, key=lambda one: one[0]) for line in lines)
