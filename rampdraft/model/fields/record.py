"""What a field record says of a value: label, unit, range, help, drawing letter.

A record stands beside the field it describes, in its `Annotated` type, and drives form, file, report and docs
alike.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class _Described:
    label: str
    help: str
    """What it is and what it affects."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dim(_Described):
    """A number, or a tuple of numbers, with a unit."""

    unit: str
    """`mm`, `deg`, `kg`, `%` or an empty string for a count."""
    low: float
    high: float
    letter: str = ""
    """The letter on the drawing; empty where the drawing shows none."""
    step: float = 1.0
    """What one click of the form changes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(_Described):
    """One word of a few."""

    options: tuple[tuple[str, str], ...]
    """(word in the file, words on the screen)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words(_Described):
    """Free text, or a tuple of texts."""

    longest: int = 200
    lines: bool = False
    """Whether it may have more than one line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch(_Described):
    """Yes or no."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionChoice(_Described):
    """A section, written `box 40x20x2`, `flat 25x6`, `round 30`, `tube 30x3` or `timber 18x95` (depth
    first).
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialChoice(_Described):
    """The name of a material of the catalogue or of the design's own `[[material]]` rows."""


Record = Dim | Choice | Words | Switch | SectionChoice | MaterialChoice
