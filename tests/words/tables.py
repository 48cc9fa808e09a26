"""What tables of data hold for people to read, by room: it is said where it is shown, `say(record.label)`."""

from collections.abc import Callable, Iterator

from checks_tables import said_by_checks, said_by_rules


def _model() -> Iterator[str]:
    yield from ()


def _app() -> Iterator[str]:
    yield from ()


def _shop() -> Iterator[str]:
    yield from ()


def _strength() -> Iterator[str]:
    yield from ()


_TABLES: dict[str, Callable[[], Iterator[str]]] = {
    "app": _app,
    "checks": said_by_checks,
    "model": _model,
    "rules": said_by_rules,
    "shop": _shop,
    "strength": _strength,
}


def said_by_tables(room: str) -> list[str]:
    """Return what the tables of a room say, each once, in their order."""
    return list(dict.fromkeys(_TABLES[room]())) if room in _TABLES else []
