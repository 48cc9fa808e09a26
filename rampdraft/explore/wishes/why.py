"""Why no ramp can be as wished for: told from bounds that hold for every ramp, before any is drawn."""

from rampdraft.checks.rules.rule import RuleSet
from rampdraft.explore.wishes.plain import plain_clashes
from rampdraft.explore.wishes.results import WhyNot
from rampdraft.explore.wishes.slopes import slope_clashes
from rampdraft.model.design import Design


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
