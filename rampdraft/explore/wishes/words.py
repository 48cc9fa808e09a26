"""Why not, in one sentence with figures."""

from typing import Final

from rampdraft.checks.rules.rule import RuleSet, load_key
from rampdraft.checks.rules.sets import with_floor
from rampdraft.explore.wishes.results import WhyNot, Wish
from rampdraft.explore.wishes.room import USUAL
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, label_of
from rampdraft.model.fields.record import Dim
from rampdraft.rounding import steps_over, whole_steps
from rampdraft.units import MM
from rampdraft.words.figures import figure, fixed, kg, mm, number, percent
from rampdraft.words.say import say, within

_MOST_WAYS: Final = 3
"""So many wishes are told what they would have to be, those that have to change least."""


def why_not_words(why: WhyNot, survey: Design, rule_sets: tuple[RuleSet, ...]) -> str:
    """Return why wishes exclude each other, in one sentence."""
    told = _slope(why, survey, rule_sets) if why.clash == "slope" else _plain(why, survey, rule_sets)
    return f"{told}{_would_do(why)}."


def _slope(why: WhyNot, survey: Design, rule_sets: tuple[RuleSet, ...]) -> str:
    wishes = {wish.key: wish for wish in why.wishes}
    slope = next(wish for wish in why.wishes if wish.rule)
    carrier = survey.carrier
    rooms = (
        ("carrier.stow_height_mm", say("{length} above the deck", length=_whole(carrier.stow_height_mm))),
        ("carrier.stow_out_mm", say("{length} outside", length=_whole(carrier.stow_out_mm))),
        ("carrier.stow_in_mm", say("{length} over it", length=_whole(carrier.stow_in_mm))),
    )
    room = _listed(tuple(words for key, words in rooms if key in wishes), say("and"))
    if why.kerb_mm is not None:
        where = say("on the rule's kerb")
    else:
        where = say("at {site}", site=survey.sites[why.site_number - 1].name)
    if why.state not in (None, "empty"):
        where = say("{where}, deck {state}", where=where, state=say(why.state))
    if why.needed < _FAR_MM:
        needs = say("needs a going of {length} at least", length=_whole(why.needed))
    else:
        needs = say("comes down nowhere")
    return say(
        "Slope {slope} ({rule}) {where} {needs}; {folded} no ramp reaches farther than {reach}{usual}",
        slope=_one_in(slope.value),
        rule=_title(slope.rule, rule_sets),
        where=where,
        needs=needs,
        folded=say("folded once into {room}", room=room) if room else say("with two leaves"),
        reach=_whole(why.possible),
        usual="" if why.of_any else _usual(),
    )


_FAR_MM: Final = 50000.0
"""No ramp is so long."""


def _usual() -> str:
    return say(
        " as ramps are usually made (hinge within {below} of the deck surface, toe flap up to {flap}, stowed"
        " no lower than the carrier's end)",
        below=_whole(USUAL.below_mm),
        flap=_whole(USUAL.flap_mm),
    )


def _plain(why: WhyNot, survey: Design, rule_sets: tuple[RuleSet, ...]) -> str:
    asking, given = why.wishes
    what = _title(asking.rule, rule_sets) if asking.rule else _subject(asking, survey)
    if why.clash == "cross slope":
        return say(
            "{what}: at most {needed}, but the ground at {site} falls {possible} across",
            what=what,
            needed=percent(why.needed),
            site=survey.sites[why.site_number - 1].name,
            possible=percent(why.possible),
        )
    show = mm if why.clash == "width" else kg
    return say(
        "{what}: {needed} asked for, but {given} is {possible}",
        what=what,
        needed=show(why.needed),
        given=within(label_of(given.key)),
        possible=show(why.possible),
    )


def _subject(wish: Wish, survey: Design) -> str:
    row = int(wish.key.partition("[")[2].partition("]")[0])
    return survey.use.users[row - 1].name


def _would_do(why: WhyNot) -> str:
    """Return what would do, each alone: the least changes first."""
    ways = [wish for wish in why.wishes if wish.would_do is not None]
    ways.sort(key=lambda wish: round(abs(_share(wish)), 9))
    if not ways:
        return ""
    return say("; what would do: {wishes}", wishes=_listed(tuple(map(_way, ways[:_MOST_WAYS])), say("or")))


def _share(wish: Wish) -> float:
    assert wish.would_do is not None
    return (wish.would_do - wish.value) / max(abs(wish.would_do), abs(wish.value))


def _way(wish: Wish) -> str:
    """Return one wish as it would have to be, rounded to the mild side."""
    value, before = wish.would_do, wish.value
    assert value is not None
    if wish.rule and value < 1.5:
        return say("a limit of {limit}", limit=_one_in(value))
    if wish.rule:
        return say("a limit of {limit}", limit=number(value, 1))
    info = info_of(wish.key)
    record = info.record if info is not None else None
    unit = record.unit if isinstance(record, Dim) else ""
    grid = 0.1 if unit == "%" else 1.0
    steps = steps_over(value, grid) if value > before else whole_steps(value, grid)
    return f"{within(label_of(wish.key))} {figure(steps * grid, unit, 1)}"


def _one_in(slope: float) -> str:
    """Return a gradient that is no milder than this: `1:8.1`."""
    return f"1:{number(whole_steps(1 / slope, 0.1) / 10, 1)}"


def _whole(value: MM) -> str:
    return fixed(value, 0, "mm")


def _title(rule: str, rule_sets: tuple[RuleSet, ...]) -> str:
    for rules in with_floor(rule_sets):
        for limit in rules.limits:
            if load_key(rules, limit) == rule:
                return f"{say(limit.title)}, {say(rules.title)}"
    return rule


def _listed(words: tuple[str, ...], last: str) -> str:
    return f" {last} ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
