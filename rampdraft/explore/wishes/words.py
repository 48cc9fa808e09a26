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
from rampdraft.words.figures import fixed, kg, mm, number, percent
from rampdraft.words.say import say

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
        ("carrier.stow_height_mm", say("{whole} above the deck", whole=_whole(carrier.stow_height_mm))),
        ("carrier.stow_out_mm", f"{_whole(carrier.stow_out_mm)} outside"),
        ("carrier.stow_in_mm", say("{whole} over it", whole=_whole(carrier.stow_in_mm))),
    )
    room = _listed(tuple(words for key, words in rooms if key in wishes), "and")
    where = (
        say("on the rule's kerb")
        if why.kerb_mm is not None
        else f"at {survey.sites[why.site_number - 1].name}"
    )
    deck = say(", deck {state}", state=why.state) if why.state not in (None, "empty") else ""
    kind = "" if why.of_any else say(" as ramps are usually made ({usual})", usual=_usual())
    needs = (
        say("needs a going of {whole} at least", whole=_whole(why.needed))
        if why.needed < _FAR_MM
        else say("comes down nowhere")
    )
    folded = say("folded once into {room}", room=room) if room else say("with two leaves")
    return say(
        "Slope {one_in} ({title}) {where}{deck} {needs}; {folded} no ramp reaches farther than {whole}{kind}",
        one_in=_one_in(slope.value),
        title=_title(slope.rule, rule_sets),
        where=where,
        deck=deck,
        needs=needs,
        folded=folded,
        whole=_whole(why.possible),
        kind=kind,
    )


_FAR_MM: Final = 50000.0
"""No ramp is so long."""


def _usual() -> str:
    return say(
        "hinge within {whole} of the deck surface, toe flap up to {whole_2}, stowed no lower"
        " than the carrier's end",
        whole=_whole(USUAL.below_mm),
        whole_2=_whole(USUAL.flap_mm),
    )


def _plain(why: WhyNot, survey: Design, rule_sets: tuple[RuleSet, ...]) -> str:
    asking, given = why.wishes
    what = _title(asking.rule, rule_sets) if asking.rule else _subject(asking, survey)
    if why.clash == "cross slope":
        site = survey.sites[why.site_number - 1].name
        falls = say("the ground at {site} falls {possible} across", site=site, possible=percent(why.possible))
        return say(
            "{what}: at most {needed}, but {falls}", what=what, needed=percent(why.needed), falls=falls
        )
    show = mm if why.clash == "width" else kg
    there_is = f"{_small(label_of(given.key))} is {show(why.possible)}"
    return say(
        "{what}: {show} asked for, but {there_is}", what=what, show=show(why.needed), there_is=there_is
    )


def _subject(wish: Wish, survey: Design) -> str:
    row = int(wish.key.partition("[")[2].partition("]")[0])
    return survey.use.users[row - 1].name


def _would_do(why: WhyNot) -> str:
    """Return what would do, each alone: the least changes first."""
    ways = [wish for wish in why.wishes if wish.would_do is not None]
    ways.sort(key=lambda wish: round(abs(_share(wish)), 9))
    return (
        say("; what would do: {listed}", listed=_listed(tuple(map(_way, ways[:_MOST_WAYS])), "or"))
        if ways
        else ""
    )


def _share(wish: Wish) -> float:
    assert wish.would_do is not None
    return (wish.would_do - wish.value) / max(abs(wish.would_do), abs(wish.value))


def _way(wish: Wish) -> str:
    """Return one wish as it would have to be, rounded to the mild side."""
    value, before = wish.would_do, wish.value
    assert value is not None
    if wish.rule and value < 1.5:
        return say("a limit of {one_in}", one_in=_one_in(value))
    if wish.rule:
        return say("a limit of {value}", value=number(value, 1))
    info = info_of(wish.key)
    record = info.record if info is not None else None
    unit = record.unit if isinstance(record, Dim) else ""
    grid = 0.1 if unit == "%" else 1.0
    steps = steps_over(value, grid) if value > before else whole_steps(value, grid)
    return f"{_small(label_of(wish.key))} {number(steps * grid, 1)} {unit}"


def _small(label: str) -> str:
    return f"{label[0].lower()}{label[1:]}"


def _one_in(slope: float) -> str:
    """Return a gradient that is no milder than this: `1:8.1`."""
    return f"1:{number(whole_steps(1 / slope, 0.1) / 10, 1)}"


def _whole(value: MM) -> str:
    return fixed(value, 0, "mm")


def _title(rule: str, rule_sets: tuple[RuleSet, ...]) -> str:
    for rules in with_floor(rule_sets):
        for limit in rules.limits:
            if load_key(rules, limit) == rule:
                return f"{limit.title}, {rules.title}"
    return rule


def _listed(words: tuple[str, ...], last: str) -> str:
    return f" {last} ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
