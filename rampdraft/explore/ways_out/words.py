"""A way out in words: the change, and what else it does."""

from collections.abc import Iterator

from rampdraft.explore.ways_out.results import Effect, Value, WayOut
from rampdraft.figures import exact
from rampdraft.model.fields.paths import info_of, label_of
from rampdraft.model.fields.record import Choice, Dim, Record, Switch
from rampdraft.model.section import Section


def way_words(way: WayOut) -> str:
    """Return the change that a way out is: `Inner leaf length 800 → 1652 mm`, `Prop under the joint: no →
    yes`.
    """
    record, before, after = _record(way), *sides_words(way)
    name = f"{record.label}:" if isinstance(record, Switch) else label_of(way.path)
    unit = _unit(record)
    return f"{name} {before.removesuffix(unit)} → {after}"


def sides_words(way: WayOut) -> tuple[str, str]:
    """Return the value before and after it: `800 mm`, `1652 mm`."""
    record = _record(way)
    before, after = (f"{_value(record, value)}{_unit(record)}" for value in (way.before, way.after))
    return before, after


def _record(way: WayOut) -> Record | None:
    info = info_of(way.path)
    return info.record if info is not None else None


def _unit(record: Record | None) -> str:
    return f" {record.unit}" if isinstance(record, Dim) and record.unit else ""


def effect_words(way: WayOut, most: int = 1000) -> list[str]:
    """Return what else a way out does, in sentences; of each kind the `most` first ones."""
    told = (("But:", way.worsens), ("Cures too:", way.cures))
    return [
        f"{begin} {_listed(effects, most, cures=effects is way.cures)}." for begin, effects in told if effects
    ]


def ways_lines(ways: tuple[WayOut, ...], most: int) -> Iterator[str]:
    """Yield the ways out of one check, a line each, the least change first; a sentence where there is
    none.
    """
    if not ways:
        yield (
            "Ways out: none found; no single dimension, section or material that was tried cures this by"
            " itself."
        )
    for way in ways:
        yield " ".join((f"Way out: {way_words(way)}.", *effect_words(way, most)))


def _listed(effects: tuple[Effect, ...], most: int, *, cures: bool) -> str:
    words = [effect.name if cures else effect.words for effect in effects[:most]]
    more = len(effects) - len(words)
    return "; ".join((*words, f"and {more} more") if more else words)


def _value(record: Record | None, value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Section):
        return value.text
    if isinstance(record, Choice):
        return dict(record.options).get(str(value), str(value))
    return exact(value) if isinstance(value, int | float) else value
