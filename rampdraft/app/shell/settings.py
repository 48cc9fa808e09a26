"""What the program remembers between runs: layout, recent files, last folders. An ini file, never the
registry.
"""

from pathlib import Path
from typing import Final

from PySide6.QtCore import QByteArray, QRect, QSettings

RECENT_KEPT: Final = 8


def store() -> QSettings:
    """Return the settings file. Tests redirect it with QSettings.setPath(IniFormat, UserScope, folder)."""
    return QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "rampdraft", "rampdraft")


def folder() -> Path:
    """Return the folder of the settings, where more of a person's own is kept."""
    return Path(store().fileName()).parent


def recent_files() -> tuple[Path, ...]:
    """Return the files opened or saved last, newest first, as far as they still exist."""
    value = store().value("recent", [])
    names = value if isinstance(value, list) else [value]  # a list of one comes back as a bare string
    return tuple(path for path in (Path(str(name)) for name in names if name) if path.is_file())


def remember_file(path: Path) -> None:
    """Put a file at the head of the recent ones."""
    path = path.resolve()
    kept = [path, *(old for old in recent_files() if old != path)][:RECENT_KEPT]
    store().setValue("recent", [str(one) for one in kept])
    store().setValue("folder", str(path.parent))


def last_folder() -> str:
    """Return the folder used last, or the home folder."""
    folder = str(store().value("folder", ""))
    return folder if folder and Path(folder).is_dir() else str(Path.home())


def state(name: str) -> QByteArray | None:
    """Return a remembered layout, or None."""
    value = store().value(f"layout/{name}")
    return value if isinstance(value, QByteArray) and not value.isEmpty() else None


def remember_state(name: str, value: QByteArray) -> None:
    """Remember a layout."""
    store().setValue(f"layout/{name}", value)


FIRST_STEP: Final = "survey"


def step() -> str:
    """Return the step of the job that was in hand last; the first one to begin with."""
    return str(store().value("step", FIRST_STEP))


def remember_step(key: str) -> None:
    """Remember the step in hand; empty for everything."""
    store().setValue("step", key)


def views() -> tuple[str, bool, dict[str, QRect]]:
    """Return which view stands beside the others, whether below them, and the windows of those that stand
    apart.
    """
    kept = store()
    names = kept.value("views/apart", [])
    names = names if isinstance(names, list) else [names]  # a list of one comes back as a bare string
    places = {str(name): kept.value(f"views/place/{name}") for name in names if name}
    apart = {name: place for name, place in places.items() if isinstance(place, QRect)}
    return str(kept.value("views/beside", "")), str(kept.value("views/below", "false")) == "true", apart


def remember_views(beside: str, below: bool, apart: dict[str, QRect]) -> None:
    """Remember where views stand."""
    kept = store()
    kept.setValue("views/beside", beside)
    kept.setValue("views/below", "true" if below else "false")
    kept.setValue("views/apart", list(apart))
    for name, place in apart.items():
        kept.setValue(f"views/place/{name}", place)


def look() -> str:
    """Return which table of colours was chosen, as it was kept."""
    return str(store().value("look", ""))


def remember_look(name: str) -> None:
    """Remember a table of colours."""
    store().setValue("look", name)


def language() -> str:
    """Return which language was chosen, as it was kept."""
    return str(store().value("language", ""))


def remember_language(name: str) -> None:
    """Remember a language."""
    store().setValue("language", name)


def lengths() -> str:
    """Return in which unit lengths are to be shown, as it was kept."""
    return str(store().value("lengths", ""))


def remember_lengths(unit: str) -> None:
    """Remember a unit of length."""
    store().setValue("lengths", unit)


def text_size() -> int:
    """Return the size of letters in per cent, as it was kept."""
    kept = str(store().value("text_size", ""))
    return int(kept) if kept.isdecimal() else 100


def remember_text_size(per_cent: int) -> None:
    """Remember a size of letters."""
    store().setValue("text_size", per_cent)


def tour_seen() -> bool:
    """Return whether the tour has been begun before."""
    return str(store().value("tour_seen", "false")) == "true"


def remember_tour_seen() -> None:
    """Remember that the tour has been begun."""
    store().setValue("tour_seen", "true")
