"""Why no ramp can be as wished for: told from bounds that hold for every ramp, before any is drawn."""

from typing import Final

from rampdraft.checks.result import Check
from rampdraft.checks.rules.rule import RuleSet
from rampdraft.explore.wishes.plain import plain_clashes
from rampdraft.explore.wishes.results import WhyNot
from rampdraft.explore.wishes.slopes import slope_clashes
from rampdraft.model.design import Design

_KINDS: Final = {
    "slope": ("own/stowed",),
    "width": ("clear_width", "surface_width", "own/user-width", "own/opening"),
    "load": ("rated_load", "own/user-load"),
    "cross slope": ("cross_slope",),
}
"""Checks that a clash stands against, besides those of the rules that it names, by their kind."""


def clashes(survey: Design, rule_sets: tuple[RuleSet, ...]) -> tuple[WhyNot, ...]:
    """Return all wishes of a survey that exclude each other: first what is proved of any ramp, and of that
    the fewest wishes.

    Of the design only the survey is read: carrier, sites, users, rated load, and the rule sets it is judged
    by. What is not told may be impossible too: the bounds are necessary, not sufficient. Limits that hang on
    the ramp itself (its length), of which the leaves alone are judged, or that are advice, are left out.
    """
    found = (*plain_clashes(survey, rule_sets), *slope_clashes(survey, rule_sets))
    return tuple(sorted(found, key=lambda one: (not one.of_any, len(one.wishes))))


def why_not(survey: Design, rule_sets: tuple[RuleSet, ...]) -> WhyNot | None:
    """Return the smallest set of wishes that exclude each other; None where none is found."""
    return next(iter(clashes(survey, rule_sets)), None)


def barring(found: tuple[WhyNot, ...], check: Check) -> WhyNot | None:
    """Return which of the clashes found keeps any ramp from passing a check; None where there is none."""
    return next((why for why in found if check.fails and _bars(why, check)), None)


def _bars(why: WhyNot, check: Check) -> bool:
    if check.about.kind in _KINDS[why.clash]:
        return why.clash == "slope" or _asks(why, check)
    named = any(wish.rule == check.demand.id for wish in why.wishes)
    return (
        why.clash == "slope"
        and named
        and (check.site_number, check.about.state) == (why.site_number, why.state)
    )


def _asks(why: WhyNot, check: Check) -> bool:
    """Return whether a check asks what a clash is about: the same rule, or the same user."""
    asked = why.wishes[0]
    if asked.rule:
        return asked.rule == check.demand.id and check.site_number == why.site_number
    return asked.key.startswith(f"use.users[{check.about.user}].")
