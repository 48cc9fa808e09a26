"""How much of its strength a member uses: on which basis, under which combination of loads, and what is
needed to say so.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final, Literal, Protocol, TypeVar

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.loading.loads import Load, Rolling
from rampdraft.rounding import greatest_at
from rampdraft.strength.formula import Formula, Symbol, Worked, factor
from rampdraft.units import Array
from rampdraft.words.figures import newton, newton_metre
from rampdraft.words.prose import Prose
from rampdraft.words.say import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """Factors on loads and materials, and the strength they are set against. 1 is no factor."""

    name: Literal["limit states", "ultimate", "no permanent set"]
    on: Literal["yield", "ultimate"]
    gamma_g: float = 1.0
    """On own weight."""
    gamma_q: float = 1.0
    """On what rolls over it."""
    gamma_m0: float = 1.0
    """Steel in bending, shear and bearing."""
    gamma_m1: float = 1.0
    """Steel that may buckle."""
    gamma_m2: float = 1.0
    """Welds, pins in shear, bolts."""
    gamma_timber: float = 1.0
    gamma_a1: float = 1.0
    """Aluminium in bending, shear and buckling."""


LIMIT_STATES: Final = Basis(
    name="limit states",
    on="yield",
    gamma_g=1.35,
    gamma_q=1.5,
    gamma_m0=1.0,
    gamma_m1=1.0,
    gamma_m2=1.25,
    gamma_timber=1.3,
    gamma_a1=1.10,
)
"""Limit states: loads raised, strengths lowered, by the recommended values, which a national annex may
change.

Loads: EN 1990:2002, table A1.2(B), (6.10), 1.35 and 1.5. Steel: EN 1993-1-1, 6.1, gM0 and gM1 = 1.0; EN
1993-1-8, table 2.1, gM2 = 1.25. Timber: EN 1995-1-1, table 2.3, solid timber, 1.3. Aluminium: EN 1999-1-1,
6.1.3, gM1 = 1.10.
"""

ULTIMATE: Final = Basis(name="ultimate", on="ultimate")
"""Loads as they are against ultimate strength: what is left is the overall factor (49 CFR 38.23(c))."""

YIELD: Final = Basis(name="no permanent set", on="yield")
"""Loads as they are against yield: no permanent set (proof loads)."""


Found = TypeVar("Found")

FOLDS: Final = "Nothing holds the joint: the load folds the ramp before this can be judged."


def loose_words(loose: tuple[tuple[str, int], ...]) -> str:
    """Return in words which rails nothing holds."""
    leaves = {body: [str(rail) for leaf, rail in loose if leaf == body] for body, _ in loose}
    rails = say(" and ").join(
        say(
            "rails {numbers} {of_leaf}" if len(found) > 1 else "rail {numbers} {of_leaf}",
            numbers=", ".join(found),
            of_leaf=say("of the inner leaf") if body == "inner" else say("of the outer leaf"),
        )
        for body, found in leaves.items()
    )
    return say(
        "A mechanism: nothing holds {rails}. Put a prop or a stop bar there, or cross members"
        " that are welded to the rails beside.",
        rails=rails,
    )


_GAMMA_G, _GAMMA_Q = Symbol("gG", factor), Symbol("gQ", factor)
MOMENT: Final = Formula(
    _GAMMA_G * Symbol("G", newton_metre) + _GAMMA_Q * Symbol("Q", newton_metre),
    newton_metre,
    "EN 1990, (6.10)",
)
FORCE: Final = Formula(
    _GAMMA_G * Symbol("G", newton) + _GAMMA_Q * Symbol("Q", newton), newton, "EN 1990, (6.10)"
)
"""Design value of an effect of self-weight G and load Q."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """Self-weight with one load at a time out of several, with the factors of a basis on both.

    EN 1990, 6.4.3.2, (6.10): gG G + gQ Q, the load being the only variable action.
    """

    basis: Basis
    loads: tuple[int, ...]
    """Indices of all loads that the ramp is judged under."""
    words: tuple[str, ...]
    """Of every load, also of those that are left out."""
    kept: dict[str, Any] = field(default_factory=dict[str, Any], compare=False, repr=False)
    """What several parts ask for under this combination."""

    def once(self, make: Callable[["Combination"], Found]) -> Found:
        """Return what `make` makes under this combination, made once for all parts that ask for it."""
        key = make.__qualname__
        if key not in self.kept:
            self.kept[key] = make(self)
        return self.kept[key]

    def design_value(self, self_weight: float | Array, load: float | Array) -> Any:
        """Return gG G + gQ Q; arrays broadcast."""
        return self.basis.gamma_g * self_weight + self.basis.gamma_q * load

    def worked(self, formula: Formula, self_weight: float, load: float) -> Worked:
        """Return a design value with its working; `formula` is `MOMENT` or `FORCE`."""
        return formula.of(self.basis.gamma_g, self_weight, self.basis.gamma_q, load)

    def governing(self, effects: Array) -> tuple[int, ...]:
        """Return where effects of the loads chosen, (L, ...), are greatest: the load's index, then the
        others; of equals the first.
        """
        row, *rest = greatest_at(effects)
        return self.loads[row], *rest


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """Why a part cannot be judged."""

    why: str
    clause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How much of its strength a part uses at its worst place."""

    ratio: float
    """Of the strength; it grows with the load as the load does, so that its inverse is a factor."""
    worked: Prose
    clause: str
    load: int
    """Index of the load that governs."""
    member: str = ""
    """Key of the member, where it is another one than the first of its family."""


class Judged(Protocol):
    """What does not depend on basis or load, found once, and from it the outcome under a combination."""

    def under(self, combination: Combination) -> Outcome | Unknown:
        """Return the outcome; raises StrengthUnknownError where a material lacks a strength."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """Members that are judged as one."""

    key: str
    """Joins the check's id: `inner-rails`."""
    title: str
    subject: str
    member: str
    """Key of the first of them."""
    leaf: OnLeaf = ""
    """The leaf that all of them are on; empty at the joint, at the deck or apart."""

    @property
    def name(self) -> str:
        """Return what it is called in a sentence: `Pins (joint)`."""
        return f"{self.title} ({self.subject})" if self.subject else self.title


@dataclass(frozen=True, slots=True, kw_only=True)
class Utilisation:
    """How much of its strength a family uses at its worst place."""

    family: Family
    outcome: Outcome
    load: str
    """Words of the load that governs."""

    @property
    def ratio(self) -> float:
        """Return the share of the strength."""
        return self.outcome.ratio

    @property
    def member(self) -> str:
        """Return the key of the member it speaks of."""
        return self.outcome.member or self.family.member


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownUtilisation:
    """A family that cannot be judged, and why."""

    family: Family
    outcome: Unknown

    @property
    def member(self) -> str:
        """Return the key of the first of the family."""
        return self.family.member


def utilisation(
    family: Family, part: Judged | Unknown, combination: Combination
) -> Utilisation | UnknownUtilisation:
    """Return what a family uses; one whose material lacks a strength cannot be judged."""
    try:
        outcome = part if isinstance(part, Unknown) else part.under(combination)
    except StrengthUnknownError as unknown:
        outcome = Unknown(why=str(unknown))
    if isinstance(outcome, Unknown):
        return UnknownUtilisation(family=family, outcome=outcome)
    return Utilisation(family=family, outcome=outcome, load=combination.words[outcome.load])


def load_words(load: Load) -> str:
    """Return the words of a load, with the bump factor in it."""
    bumps = load.factor if isinstance(load, Rolling) else 1.0
    return (
        say("{load}, bumps x {factor}", load=load.words, factor=factor(bumps)) if bumps != 1 else load.words
    )


def worst_last(*found: tuple[float, tuple[str, ...]]) -> tuple[str, ...]:
    """Return the lines of several ways to fail, each with its ratio, the worst one last."""
    return tuple(line for _, lines in sorted(found, key=lambda one: one[0]) for line in lines)
