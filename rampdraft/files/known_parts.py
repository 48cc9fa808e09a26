"""What the program is made of: every package that it is installed with, its version and its licence."""

import re
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from typing import Final

from rampdraft.words.say import say

_OURS: Final = "rampdraft"
_NAME: Final = re.compile(r"[A-Za-z0-9._-]+")
_LONGEST: Final = 60
"""Some packages put the whole text of the licence where its name belongs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPart:
    """One package."""

    name: str
    version: str
    licence: str
    """As its maker names it."""


def known_parts() -> tuple[KnownPart, ...]:
    """Return the packages that are installed and that the program needs, and those need, by name."""
    found: dict[str, Distribution] = {}
    waiting = [_OURS]
    while waiting:
        name = waiting.pop()
        if _key(name) in found:
            continue
        try:
            found[_key(name)] = one = distribution(name)
        except PackageNotFoundError:  # needed on another system or Python only
            continue
        wanted = (text for text in one.requires or () if "extra ==" not in text)
        waiting += [match[0] for text in wanted if (match := _NAME.match(text))]
    parts = (
        KnownPart(name=one.metadata["Name"], version=one.version, licence=_licence(one))
        for key, one in sorted(found.items())
        if key != _OURS
    )
    return tuple(parts)


def _key(name: str) -> str:
    """Return a name as packages are told apart (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _licence(one: Distribution) -> str:
    """Return the licence: its SPDX expression, else its short name, else its classifiers (core metadata)."""
    told = one.metadata.get_all("License-Expression") or one.metadata.get_all("License") or []
    short = [line for line in told if line and line != "UNKNOWN" and len(line) <= _LONGEST]
    classed = [
        text.rpartition(" :: ")[2]
        for text in one.metadata.get_all("Classifier") or []
        if text.startswith("License ::")
    ]
    return (short or [", ".join(classed)])[0] or say("see its own pages")
