"""The nearest of the words that are allowed: what somebody may have meant."""

import difflib
from collections.abc import Iterable


def nearest(word: str, allowed: Iterable[str]) -> str | None:
    """Return the allowed word most like `word`, or None when none is like it."""
    by_lower = {one.lower(): one for one in allowed}
    found = difflib.get_close_matches(word[:200].lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


def did_you_mean(word: str, allowed: Iterable[str]) -> str:
    """Return a way out: the nearest word, or the whole list of what is allowed."""
    words = tuple(allowed)
    near = nearest(word, words)
    if near is not None:
        return f"did you mean '{near}'?"
    return f"use one of: {', '.join(words)}" if words else ""
