"""A way out in words: the change, and what else it does."""

from collections.abc import Iterator

from rampdraft.explore.ways_out.results import Change, Effect, Value, WayOut
from rampdraft.model.fields.paths import info_of, label_of
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Record, Switch
from rampdraft.model.section import Section
from rampdraft.words.figures import exact, figure
from rampdraft.words.manner import manner
from rampdraft.words.say import called, say, within


def way_words(way: WayOut) -> str:
    """Return the changes that a way out is: `Inner leaf length 800 → 1652 mm`, `Prop under the joint: no →
    yes`; several with `with` between the first and the others.
    """
    return changes_words(way.changes)


def changes_words(changes: tuple[Change, ...]) -> str:
    """Return changes that are made together, the lead first."""
    lead, *beside = map(_change_words, changes)
    if not beside:
        return lead
    return say("{change} with {others}", change=lead, others=say(" and ").join(map(within, beside)))


def _change_words(change: Change) -> str:
    record, (before, after) = _record(change), sides_words(change)
    name = f"{say(record.label)}:" if isinstance(record, Switch) else label_of(change.path)
    unit = _unit(record)
    return f"{name} {before.removesuffix(f' {say(unit)}' if unit else '')} → {after}"


def sides_words(change: Change | WayOut) -> tuple[str, str]:
    """Return the value before and after a change, of a way its lead: `800 mm`, `1652 mm`."""
    record = _record(change)
    return _value(record, change.before), _value(record, change.after)


def _record(change: Change | WayOut) -> Record | None:
    info = info_of(change.path)
    return info.record if info is not None else None


def effect_words(way: WayOut, most: int = 1000) -> list[str]:
    """Return what else a way out does, in sentences; of each kind the `most` first ones."""
    told = ((say("But:"), way.worsens), (say("Cures too:"), way.cures))
    words = [
        f"{begin} {_listed(effects, most, cures=effects is way.cures)}." for begin, effects in told if effects
    ]
    return words if way.rolls else [*words, say("Not rolled over.")]


def ways_lines(ways: tuple[WayOut, ...], most: int) -> Iterator[str]:
    """Yield the ways out of one check, a line each, as they are given; a sentence where there is none."""
    if not ways:
        yield say(
            "Ways out: none found; no dimension, section or material that was tried cures this, by itself or"
            " with others."
        )
    for way in ways:
        yield " ".join((say("Way out: {change}.", change=way_words(way)), *effect_words(way, most)))


def _listed(effects: tuple[Effect, ...], most: int, *, cures: bool) -> str:
    words = [effect.name if cures else effect.words for effect in effects[:most]]
    more = len(effects) - len(words)
    return "; ".join((*words, say("and {count} more", count=more)) if more else words)


def _value(record: Record | None, value: Value) -> str:
    if isinstance(value, bool):
        return say("yes" if value else "no")
    if isinstance(value, Section):
        return called(value.text)
    if isinstance(record, Choice):
        return say(dict(record.options).get(str(value), str(value)))
    if isinstance(value, str):
        return called(value) if isinstance(record, MaterialChoice) else value
    unit = _unit(record)
    if manner().style.unit(unit):
        return figure(value, unit, 2)
    return exact(value, say(unit)) if unit else exact(value)


def _unit(record: Record | None) -> str:
    return record.unit if isinstance(record, Dim) else ""
