"""What tables of data hold for people to read, by room: it is said where it is shown, `say(record.label)`."""

from collections.abc import Callable, Iterator
from typing import get_args

from rampdraft.export import pack
from rampdraft.export.pdf import hand_over, rolling
from rampdraft.geometry.members.member import Body, Hand, HingeLine, HoleUse, Role
from rampdraft.mechanics.results import DeckState
from rampdraft.model.catalogue import materials
from rampdraft.model.section import SectionKind
from rampdraft.shop.inspection import When
from rampdraft.shop.order import TAKEN
from rampdraft.shop.remarks import RemarkKind
from rampdraft.shop.tables import HEADS
from rampdraft.shop.welds import WeldKind, WeldShape


def _checks() -> Iterator[str]:
    yield from ()


def _model() -> Iterator[str]:
    yield from ()


def _app() -> Iterator[str]:
    yield from ()


def _shop() -> Iterator[str]:
    for title, heads in HEADS.values():
        yield from (title, *heads)
    yield from get_args(Role)
    yield from ("inner knuckle", "edge upstand left", "edge upstand right")
    yield from ("carrier bracket stub", "carrier bracket plate")
    yield from get_args(WeldKind)
    yield from get_args(WeldShape)
    yield from get_args(RemarkKind)
    yield from (words for one in TAKEN for words in (f"step: {one.kind}", one.do, one.look))
    yield from (f"{use} hole" for use in get_args(HoleUse))
    yield from ("left", "right")
    yield from (
        f", {place}" for place in (*get_args(Body), *get_args(HingeLine), *get_args(Hand), "bay") if place
    )
    yield from (*get_args(When), "off", "m", "no price", "not bought", "twice")
    yield from (f"{kind} {{rest}}" for kind in get_args(SectionKind))
    names = [one.name.partition(" ") for one in materials()]
    yield from (f"{kind} {{rest}}" for kind, _, _ in names)
    yield from (rest for _, _, rest in names if rest.isalpha())


def _export() -> Iterator[str]:
    yield from (*rolling.TITLES.values(), *rolling.MEANS.values(), *hand_over.SIGNED)
    yield from (words for pair in pack.REASONS.values() for words in pair)
    yield from ("cannot be written: {reason}", "long", "broad")
    yield from (f"deck {state}" for state in get_args(DeckState))
    narrow = (*rolling.NARROW, "held", "stops", "Safety factor", "Bridge plate")
    yield from (f"short: {words}" for words in narrow)


def _strength() -> Iterator[str]:
    yield from ()


_TABLES: dict[str, Callable[[], Iterator[str]]] = {
    "app": _app,
    "checks": _checks,
    "export": _export,
    "model": _model,
    "shop": _shop,
    "strength": _strength,
}


def said_by_tables(room: str) -> list[str]:
    """Return what the tables of a room say, each once, in their order."""
    return list(dict.fromkeys(_TABLES[room]())) if room in _TABLES else []
