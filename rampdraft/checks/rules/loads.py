"""Loads that rules demand, as the mechanics take them."""

from dataclasses import replace

from rampdraft.checks.rules.rule import NUMBERS, Limit, RuleSet
from rampdraft.mechanics.loading.loads import Axle, Footprint, Load, PerMetre, Rolling, rolling_kg, user_loads
from rampdraft.model.design import Design
from rampdraft.units import G_M_S2


def all_loads(design: Design, rule_sets: tuple[RuleSet, ...]) -> tuple[Load, ...]:
    """Return every load that the ramp is judged under: its users, its rated load, and the loads of the rules
    chosen.
    """
    demanded = (
        replace(load, demanded=load_key(rule_set, limit))
        for rule_set in rule_sets
        for limit in rule_set.limits
        if limit.load is not None and _applies(design, limit)
        for load in _loads(design, load_key(rule_set, limit), limit)
    )
    return (*user_loads(design), *demanded)


def _applies(design: Design, limit: Limit) -> bool:
    """Return whether a limit applies to the ramp: one of a load depends on numbers of the whole ramp
    alone.
    """
    return limit.when is None or limit.when.holds(NUMBERS[limit.when.number].value(design, None, 0.0))


def load_key(rule_set: RuleSet, limit: Limit) -> str:
    """Return the key of a limit and of the load that it demands."""
    return f"{rule_set.key}/{limit.id}"


def _loads(design: Design, key: str, limit: Limit) -> tuple[Load, ...]:
    """Return the load of a limit: a patch in the middle or anywhere, a load by the metre, or a mass on each
    user's wheels.
    """
    load, words = limit.load, limit.words
    assert load is not None, "only limits with a load are asked for one"
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    if load.times_rated:
        force = load.times_rated * design.use.rated_load_kg * G_M_S2
        return (PerMetre(key=key, words=words, n_mm=force / length),)
    if load.n_mm:
        return (PerMetre(key=key, words=words, n_mm=load.n_mm),)
    if load.anywhere:
        wheel = Axle(
            offset_mm=0.0, force_n=load.force_n, track_mm=0.0, patch_mm=(load.across_mm, load.along_mm)
        )
        return (Rolling(key=key, words=words, axles=(wheel,)),)
    if load.across_mm:
        return (
            Footprint(
                key=key, words=words, force_n=load.force_n, across_mm=load.across_mm, along_mm=load.along_mm
            ),
        )
    return tuple(rolling_kg(design, load.force_n / G_M_S2, key, words))
