"""Where a ramp is used, and which published rule sets are written for that."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class UsedAt:
    """A kind of place, and the keys of the rule sets that are written for it, one country's or another's."""

    words: str
    rule_sets: tuple[str, ...]


USED_AT: Final[tuple[UsedAt, ...]] = (
    UsedAt("A car or van of one's own", ("france-vehicle",)),
    UsedAt(
        "A vehicle open to the public",
        (
            "us-vehicle",
            "us-vehicle-2016",
            "australia-transport",
            "france-guided-transport",
            "france-tourist-train",
        ),
    ),
    UsedAt("A bus", ("singapore-bus", "us-vehicle", "us-vehicle-2016", "australia-transport")),
    UsedAt("A building, a stage, a yard", ("us-building", "uk-building", "germany-building")),
    UsedAt("Anywhere, as advice", ("grade-break", "hse-handling")),
)
"""Elsewhere (a barrow's ramp, a boat) no published rule set holds; what is asked of every ramp does."""
