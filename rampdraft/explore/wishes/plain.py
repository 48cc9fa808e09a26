"""Wishes that exclude each other number against number: what is to pass, and what there is for it."""

from collections.abc import Iterator
from typing import Final

from rampdraft.checks.result import Sense, Status, verdict
from rampdraft.checks.rules.rule import RuleSet
from rampdraft.explore.wishes.demanded import demanded
from rampdraft.explore.wishes.results import RULES, Clash, WhyNot, Wish
from rampdraft.model.design import Design

_OPENING: Final = "carrier.opening_width_mm"
_RATED: Final = "use.rated_load_kg"


def plain_clashes(design: Design, rule_sets: tuple[RuleSet, ...]) -> Iterator[WhyNot]:
    """Yield what is wider than the opening, heavier than the rated load, or slopes across too much."""
    opening, rated = design.carrier.opening_width_mm, design.use.rated_load_kg
    for rule, limit in demanded(design, rule_sets):
        if limit.limit is None:
            continue
        if limit.quantity in ("clear_width", "surface_width"):
            yield from _short("width", RULES, limit.limit, _OPENING, opening, rule)
        elif limit.quantity == "rated_load":
            yield from _short("load", RULES, limit.limit, _RATED, rated, rule)
        elif limit.quantity == "cross_slope":
            for number, site in enumerate(design.sites, start=1):
                across, key = abs(site.cross_slope_percent) / 100, f"sites[{number}].cross_slope_percent"
                if site.kind in limit.sites and _beyond(across, limit.limit, limit.sense):
                    wishes = (
                        Wish(key=RULES, rule=rule, value=limit.limit, would_do=across),
                        Wish(key=key, value=100 * across, would_do=100 * limit.limit),
                    )
                    yield WhyNot(
                        clash="cross slope",
                        wishes=wishes,
                        needed=limit.limit,
                        possible=across,
                        site_number=number,
                    )
    for number, user in enumerate(design.use.users, start=1):
        key = f"use.users[{number}]"
        yield from _short("width", f"{key}.width_mm", user.width_mm, _OPENING, opening)
        # The attendant has a mass of their own, and stays as heavy.
        attendant = user.attendant_kg
        yield from _short("load", f"{key}.mass_kg", user.mass_kg + attendant, _RATED, rated, beside=attendant)


def _short(
    clash: Clash, asking: str, asked: float, given: str, there_is: float, rule: str = "", beside: float = 0.0
) -> Iterator[WhyNot]:
    """Yield a clash where there is less than is asked for; `beside` is what else is in that and stays."""
    if _beyond(there_is, asked, "at least"):
        left = there_is - beside
        wishes = (
            Wish(key=asking, rule=rule, value=asked - beside, would_do=left if left > 0 else None),
            Wish(key=given, value=there_is, would_do=asked),
        )
        yield WhyNot(clash=clash, wishes=wishes, needed=asked, possible=there_is)


def _beyond(value: float, limit: float, sense: Sense) -> bool:
    return verdict(value, limit, sense)[1] is Status.EXCEEDS
