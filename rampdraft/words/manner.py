"""How people are told things: in which language, with which decimal sign, in which units of length.

One manner holds in the whole process, since whoever sits before it speaks one language. It is no part of any
result: keys and numbers stay the same, and what programs read (files, JSON, DXF) is not told in a manner.
Whoever starts another process hands it on (`explore/pool.py`).
"""

from collections.abc import Generator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from rampdraft.units import MM_PER_INCH

Language = Literal["en", "de"]
Lengths = Literal["mm", "in"]

LANGUAGES: Final[tuple[Language, ...]] = get_args(Language)
LENGTHS: Final[tuple[Lengths, ...]] = get_args(Lengths)


@dataclass(frozen=True, slots=True)
class Shown:
    """What stands for one of the program's units: its name, so many of it to one, decimals more, and in which
    parts of it a length is read off a rule; 0 where it is written with decimals.
    """

    name: str
    times: float = 1.0
    more: int = 0
    parts: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How figures are written."""

    decimal: str = "."
    minus: str = "-"
    units: tuple[tuple[str, Shown], ...] = ()
    """Units that are shown as others, by name; the rest are shown as they are."""

    def written(self, text: str) -> str:
        """Return a number written plainly as this style writes it; nothing has no sign."""
        if text.startswith("-") and not float(text):
            text = text[1:]
        return text if self is PLAIN else text.replace(".", self.decimal).replace("-", self.minus)

    def unit(self, name: str) -> Shown | None:
        """Return what is shown in a unit's place; None where it is shown as it is."""
        return next((shown for of, shown in self.units if of == name), None) if self.units else None


PLAIN: Final = Style()
"""As people type it, and files hold it."""
PRINTED: Final = Style(minus="−")
"""As it is shown, drawn and printed where nothing else is chosen."""

INCHES: Final = (("mm", Shown("in", 1 / MM_PER_INCH, 2, 32)),)
"""A rule for the shop is divided into 32nds of an inch; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How people are told things."""

    language: Language = "en"
    lengths: Lengths = "mm"
    style: Style = PRINTED
    """Of figures; follows from the rest, see `manner_of`."""


def manner_of(language: Language = "en", lengths: Lengths = "mm", decimal: str = "") -> Manner:
    """Return the manner of a language: its decimal sign, unless another is wanted, and units of length."""
    usual = "," if language == "de" else "."
    style = Style(decimal=decimal or usual, minus="−", units=INCHES if lengths == "in" else ())
    return Manner(language=language, lengths=lengths, style=PRINTED if style == PRINTED else style)


def in_decimals(spoken: Manner) -> Manner:
    """Return a manner with all lengths in decimals: with the parts of a rule a pin would not go into its
    hole, and whoever reckons again would come to something else.
    """
    units = tuple((of, replace(shown, parts=0)) for of, shown in spoken.style.units)
    return replace(spoken, style=replace(spoken.style, units=units)) if units else spoken


_now = Manner()


def manner() -> Manner:
    """Return the manner that holds."""
    return _now


def speak(wanted: Manner) -> None:
    """Let another manner hold from now on."""
    global _now  # noqa: PLW0603 - the one thing that a process has for whoever sits before it
    _now = wanted


@contextmanager
def speaking(wanted: Manner) -> Generator[None]:
    """Let another manner hold for a while."""
    before = _now
    speak(wanted)
    try:
        yield
    finally:
        speak(before)
