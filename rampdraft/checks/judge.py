"""A value against a limit: the ratio, the verdict, and the check that says so."""

from typing import Final

from rampdraft import figures
from rampdraft.checks.quantities.table import Unit
from rampdraft.checks.result import Check, Sense, Source, Status
from rampdraft.checks.subjects import Finding, Unjudged
from rampdraft.prose import Prose, prose

CLOSE_FROM: Final = 0.95
"""From 95 % to 100 % of a limit a value is called close: saw, weld and ground are never exact. The program's
own choice.
"""

TOLERANCE: Final = 1e-9
"""A value that misses its limit by less than this share of it is at the limit, and so within: only rounding
parts them.
"""

MOST_RATIO: Final = 1000.0
"""Ratio told where the limit is nothing, or the value is: a finite number, so that it sorts and prints."""

_SHOWN_UNITS: Final[dict[Unit, str]] = {
    "mm": "mm",
    "kg": "kg",
    "N": "N",
    "kPa": "kPa",
    "deg": "°",
    "gradient": "rise/going",
    "count": "",
    "share": "share",
    "factor": "factor",
    "yes/no": "",
    "none": "",
}


def verdict(value: float, limit: float, sense: Sense) -> tuple[float, Status]:
    """Return how much of the limit is used, and the status that follows."""
    if sense == "is":
        same = abs(value - limit) <= TOLERANCE * max(1.0, abs(limit))
        return (0.0, Status.WITHIN) if same else (MOST_RATIO, Status.EXCEEDS)
    used, all_of = (value, limit) if sense == "at most" else (limit, value)
    if all_of > 0:
        ratio = min(max(used, 0.0) / all_of, MOST_RATIO)
    else:
        ratio = 0.0 if used < all_of else 1.0 if used == all_of else MOST_RATIO
    if ratio > 1 + TOLERANCE:
        return ratio, Status.EXCEEDS
    return ratio, Status.CLOSE if ratio >= CLOSE_FROM * (1 - TOLERANCE) else Status.WITHIN


def compose(
    *,
    id: str,
    title: str,
    source: Source,
    sense: Sense,
    unit: Unit,
    limit: float | None,
    limit_text: str,
    finding: Finding,
    why: tuple[str, ...] = (),
    table: tuple[str, ...] = (),
    warning: str = "",
) -> Check:
    """Return the check of one finding against one limit; a finding or limit that is missing cannot be judged.

    `warning`, when not empty, makes it a warning only, and is told where the limit is exceeded.
    """
    name = f"{id}/{finding.key}" if finding.key else id
    if isinstance(finding, Unjudged) or limit is None:
        measured = None if isinstance(finding, Unjudged) else finding
        return Check(
            id=name,
            title=title,
            subject=finding.subject,
            value=measured.value if measured else None,
            limit=limit,
            unit=_SHOWN_UNITS[unit],
            value_text=value_words(measured.value, unit) if measured else "",
            limit_text=limit_text,
            sense=sense,
            ratio=None,
            status=Status.UNJUDGED,
            why=" ".join((finding.why, *why)).strip(),
            source=source,
            worked=prose(_worked, measured.working if measured else (), ()),
            member=measured.member if measured else "",
            site_number=finding.site_number,
            share=finding.share,
            warning_only=bool(warning),
        )
    ratio, status = verdict(finding.value, limit, sense)
    number = unit not in ("yes/no", "none")
    if warning and status is Status.EXCEEDS:
        why = (*why, warning)
    quotient = "value / limit" if sense == "at most" else "limit / value"
    used = f", {quotient} = {100 * ratio:.1f} %" if sense != "is" and 0 < ratio < MOST_RATIO else ""
    return Check(
        id=name,
        title=title,
        subject=finding.subject,
        value=finding.value if number else None,
        limit=limit if number else None,
        unit=_SHOWN_UNITS[unit],
        value_text=finding.text or value_words(finding.value, unit),
        limit_text=limit_text,
        sense=sense,
        ratio=ratio,
        status=status,
        why=" ".join((finding.why, *why)).strip(),
        source=source,
        worked=prose(_worked, finding.working, (*table, f"limit: {sense} {limit_text}{used}: {status}")),
        member=finding.member,
        site_number=finding.site_number,
        share=finding.share,
        warning_only=bool(warning),
    )


def _worked(found: Prose | tuple[str, ...], below: tuple[str, ...]) -> tuple[str, ...]:
    return (*lines_of(found), *below)


def lines_of(found: Prose | tuple[str, ...]) -> tuple[str, ...]:
    """Return the lines of a working, written now if they were not yet."""
    return found.lines() if isinstance(found, Prose) else found


def value_words(value: float, unit: Unit) -> str:
    """Return a value for a list: `1 : 6.56 = 15.24 % = 8.67°`, `860 mm`, `yes`."""
    if unit == "gradient":
        return figures.gradient(value)
    if unit == "yes/no":
        return "yes" if value else "no"
    if unit == "share":
        return f"{figures.percent(value)} of the strength"
    if unit == "factor":
        return figures.number(value, 2)
    return f"{figures.number(value)} {_SHOWN_UNITS[unit]}".rstrip()
