"""What tables of data hold for people to read, by room: it is said where it is shown, `say(record.label)`."""

from collections.abc import Callable, Iterator


def _checks() -> Iterator[str]:
    yield from ()


def _model() -> Iterator[str]:
    yield from ()


def _app() -> Iterator[str]:
    from rampdraft.app import speech
    from rampdraft.app.checklist import checks
    from rampdraft.app.form import entries, help
    from rampdraft.app.proposing import improve_dialog, stock_rows
    from rampdraft.app.views import (
        carrier,
        compare,
        fold_map,
        pieces,
        rolling,
        rolling_table,
        side,
        solid,
        strength,
    )
    from rampdraft.mechanics.rolling.results import WAYS
    from rampdraft.model.rolling_shape import user_classes

    yield from filter(None, checks._ROLLING.values())
    yield from (one["help"] for one in (entries._RISE, entries._FALL))
    yield from (help.FIRST, "value", "check", "part", "given", "follows")
    yield from (words for words, _ in improve_dialog.AIMS)
    yield from (words for words, *_ in stock_rows._USUAL)
    yield from (*speech.NAMES.values(), *speech.UNITS.values())
    for columns in (carrier.COLUMNS, carrier.HINTS, compare.COLUMNS, pieces.COLUMNS, strength.COLUMNS):
        yield from filter(None, columns)
    yield from filter(None, (*strength.HINTS, *compare.TURNS.values(), *fold_map.ENDS.values()))
    for ways in (carrier.WAYS, rolling.BELOW, side.WAYS):
        yield from (words for way in ways for words in way)
    yield from (carrier.WORST, rolling_table.COLUMNS[0], *rolling_table._WORDS.values(), solid.ROLLS)
    yield from (words for words, _ in solid.FROM)
    yield from (way.capitalize() for ways in WAYS.values() for way in ways)
    yield from (kind.capitalize() for kind in user_classes())


def _shop() -> Iterator[str]:
    yield from ()


def _strength() -> Iterator[str]:
    yield from ()


_TABLES: dict[str, Callable[[], Iterator[str]]] = {
    "app": _app,
    "checks": _checks,
    "model": _model,
    "shop": _shop,
    "strength": _strength,
}


def said_by_tables(room: str) -> list[str]:
    """Return what the tables of a room say, each once, in their order."""
    return list(dict.fromkeys(_TABLES[room]())) if room in _TABLES else []
