"""What tables of data hold for people to read, by room: it is said where it is shown, `say(record.label)`."""

from collections.abc import Callable, Iterator
from typing import get_args

from rampdraft.drawing.rolling_words import PLACES, Outcome
from rampdraft.geometry.members.member import Face
from rampdraft.mechanics.folding.bodies import CONTACTS
from rampdraft.mechanics.results import DECK_WORDS, DeckState
from rampdraft.mechanics.rolling.results import Remark, Way
from rampdraft.mechanics.rolling.words import PLACE_WORDS
from rampdraft.model.design import UserClass
from rampdraft.model.materials import MaterialKind
from rampdraft.strength.utilisation import FOLDS, LIMIT_STATES, ULTIMATE, YIELD


def _checks() -> Iterator[str]:
    yield from ()


def _model() -> Iterator[str]:
    yield from ()


def _app() -> Iterator[str]:
    yield from ()


def _shop() -> Iterator[str]:
    yield from ()


def _strength() -> Iterator[str]:
    yield from (FOLDS, *get_args(MaterialKind), *(basis.name for basis in (LIMIT_STATES, ULTIMATE, YIELD)))


def _mechanics() -> Iterator[str]:
    yield from (*DECK_WORDS.values(), *PLACE_WORDS.values(), *CONTACTS)
    yield from (*get_args(DeckState), *get_args(Remark), *get_args(Way), "wider than the ramp")
    yield from ("front wheel", "middle wheel", "rear wheel", "feet", "footrest", "underside")
    yield from ("anti-tip wheels", "attendant's head", "toe", "joint")


def _drawing() -> Iterator[str]:
    yield from (*get_args(Outcome), *PLACES.values(), *PLACES)
    yield from (*get_args(UserClass), *filter(None, get_args(Face)))


_TABLES: dict[str, Callable[[], Iterator[str]]] = {
    "app": _app,
    "checks": _checks,
    "drawing": _drawing,
    "mechanics": _mechanics,
    "model": _model,
    "shop": _shop,
    "strength": _strength,
}


def said_by_tables(room: str) -> list[str]:
    """Return what the tables of a room say, each once, in their order."""
    return list(dict.fromkeys(_TABLES[room]())) if room in _TABLES else []
