"""What a cutting plan is made from, and what it is."""

from dataclasses import dataclass
from typing import Literal

from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Alike pieces that are to be sawn."""

    part: str
    section: str
    material: str
    length_mm: MM
    quantity: int
    beside_mm: MM = 0.0
    """By how much two of them lie beside each other, laid taper to taper; 0 where they do not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A stock length of a section in a material."""

    section: str
    material: str
    length_mm: MM
    in_hand: int = 0
    """So many lie in the shop, and none is bought; 0: as many are bought as are wanted."""
    price: float = 0.0
    """Of one, in any money; 0 where it is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """How it is sawn: a stock length first loses its end trim and the cut that takes it off; then each piece
    takes its length and one cut, except that a piece that ends with the stock length needs none.
    """

    kerf_mm: MM
    trim_mm: MM
    least_offcut_mm: MM = 0.0
    """What is left over and no shorter is of use another time."""

    @property
    def start_mm(self) -> MM:
        """Return where the first piece begins."""
        return self.trim_mm + self.kerf_mm if self.trim_mm > 0 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One piece cut from a stock length."""

    part: str
    length_mm: MM
    at_mm: MM
    """Where it begins, from the end that is trimmed."""
    beside_mm: MM = 0.0
    """By how much it lies beside the one before it, upside down: one slanted cut makes both tapers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One stock length and what is cut from it, in order."""

    section: str
    material: str
    stock_mm: MM
    in_hand: bool
    cuts: tuple[Cut, ...]
    offcut_mm: MM
    """Without the cut that frees it."""


Why = Literal["no stock", "too long", "not enough in hand"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A part that is not in the plan, and why."""

    part: str
    quantity: int
    why: Why
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Stock lengths to take and to buy, and what is cut from each."""

    bars: tuple[Bar, ...]
    unplaced: tuple[Unplaced, ...]
    least_bars: int
    """What no plan can beat: so many stock lengths must be bought."""
    proven_least: bool
    """Whether no plan buys fewer stock lengths; where all prices are known, whether none costs less."""
    cost: float | None
    """Of what is bought; None where a price is not known."""
    saw: Saw
    words: str

    @property
    def bought(self) -> tuple[Bar, ...]:
        """Return the stock lengths that are to be bought."""
        return tuple(bar for bar in self.bars if not bar.in_hand)
