"""Where the values of a random design come from: hypothesis, which makes a failing one simple, or a seed."""

import math
from abc import ABC, abstractmethod
from random import Random
from typing import Any, Final, Protocol, TypeVar

from hypothesis import strategies as st

LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"))
ODD_LETTERS: Final = "\\\"'#[]={}<&%;,=+-@ äßé漢🛞\u0301"
SEVENTH: Final = 1 / 7
MOST_BYTES: Final = 1600
GROUP_BYTES: Final = 16
"""A group begins at a multiple of this, so that more or fewer values in one leave those of the next alone."""
PLAIN_WORDS: Final = (
    "Yard",
    "Dinner trolley",  # words that hold another meaning: inner, outer, stop, loaded, carrier, empty
    "Router cart",
    "stop lamp",
    "Loading bay, loaded side",
    "empty carrier",
    "joint, toe & prop",
)


Option = TypeVar("Option")


class Draw(Protocol):
    """What `hypothesis.strategies.composite` hands to its function."""

    def __call__(self, strategy: st.SearchStrategy[Any], /) -> Any: ...


def words(longest: int, *, lines: bool, blank: bool) -> st.SearchStrategy[str]:
    text = st.text(
        LETTERS | st.sampled_from("\\\"'#[]={}") | st.sampled_from("\n\t" if lines else " "), max_size=longest
    )
    return text if blank else text.filter(lambda some: some.strip())


class Lots(ABC):
    """Draws values one after another. The first choice and the value `near` are the simple ones."""

    def __init__(self) -> None:
        self.grain_mm = self.one(1.0, 0.1, 10.0, SEVENTH)
        """Lengths of one design are whole numbers of this from the simple value: round ones meet exactly,
        others hardly ever.
        """

    @abstractmethod
    def whole(self, low: int, high: int) -> int:
        """Return a whole number of the range; the one nearest to 0 is the simple one."""

    def group(self) -> None:  # noqa: B027  only hypothesis makes something of it
        """Say that what follows belongs together."""

    def odd_words(self, longest: int, *, lines: bool = False) -> str:
        """Return text of odd letters, blank too."""
        letters = ODD_LETTERS + ("\n\t" if lines else "")
        return "".join(self.one(*letters) for _ in range(self.whole(0, min(longest, 12))))

    def one(self, *options: Option) -> Option:
        return options[self.whole(0, len(options) - 1)]

    def chance(self, percent: int) -> bool:
        return self.whole(0, 99) >= 100 - percent

    def number(self, low: float, high: float, near: float) -> float:
        """Return a number of the range, each of its ends one time in twenty or more; `low` where the range is
        empty.
        """
        near = max(min(near, high), low)
        grain, room = self.grain_mm, (high - low) / 20
        steps = self.whole(
            -math.ceil(max(near - low + room, 0) / grain), math.ceil(max(high - near + room, 0) / grain)
        )
        value = near + steps * grain
        return max(min(value if grain == SEVENTH else round(value, 6), high), low)

    def part(self, percent: int, low: float, high: float, near: float) -> float:
        """Return a number of the range in so many per cent, else the simple one, in or out of it."""
        return self.number(low, high, near) if self.chance(percent) else near

    def name(self, number: int, longest: int) -> str:
        """Return a name that no other row has, whatever its words are."""
        some = self.odd_words(longest - 4) if self.chance(15) else self.one(*PLAIN_WORDS)
        return f"{some[: longest - 4]} {number}"


class FromHypothesis(Lots):
    """Lots out of one string of bytes: hundreds of strategies drawn one by one take many times as long, and
    hypothesis would copy one to another and so draw designs that are much alike.

    A byte of 0 is the simple value, and so is what lies beyond the last; failing bytes are made 0.
    """

    def __init__(self, draw: Draw) -> None:
        self._bytes: bytes = draw(st.binary(min_size=MOST_BYTES, max_size=MOST_BYTES))
        self._read = 0
        super().__init__()

    def group(self) -> None:
        self._read = -(-self._read // GROUP_BYTES) * GROUP_BYTES

    def whole(self, low: int, high: int) -> int:
        size = high - low + 1
        if size <= 1:
            return low
        count = 1 if size <= 256 else 2 if size <= 65536 else 4
        drawn = self._bytes[self._read : self._read + count].ljust(count, b"\0")
        self._read += count
        return self._nearest(low, high, int.from_bytes(drawn, "big") * size >> 8 * count)

    @staticmethod
    def _nearest(low: int, high: int, rank: int) -> int:
        """Return the whole number of this rank: 0, or what is nearest to it, then the others by size."""
        near = min(max(low, 0), high)
        both = 2 * min(near - low, high - near)
        if rank <= both:
            return near + (rank + 1) // 2 * (1 if rank % 2 else -1)
        rest = rank - both // 2
        return near + rest if high - near > near - low else near - rest


class FromSeed(Lots):
    def __init__(self, random: Random) -> None:
        self._random = random
        super().__init__()

    def whole(self, low: int, high: int) -> int:
        return self._random.randint(low, high)
