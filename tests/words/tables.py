"""What tables of data hold for people to read, by room: it is said where it is shown, `say(record.label)`."""

import re
from collections.abc import Callable, Iterator
from typing import get_args

from checks_tables import said_by_checks, said_by_rules

from rampdraft.cli.roll_sheet import HEAD
from rampdraft.drawing.rolling_words import PLACES, Outcome
from rampdraft.explore.proposals import words as proposed
from rampdraft.export import pack
from rampdraft.export.pdf import hand_over, rolling
from rampdraft.geometry.buildable.bounds import BOUNDS
from rampdraft.geometry.members.member import Body, Face, Hand, HingeLine, HoleUse, Role
from rampdraft.mechanics.folding.bodies import CONTACTS
from rampdraft.mechanics.results import DECK_WORDS, DeckState
from rampdraft.mechanics.rolling.results import Remark, Way
from rampdraft.mechanics.rolling.words import PLACE_WORDS
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import GROUP_LABELS, ONE, fields_of
from rampdraft.model.fields.record import Choice, Dim
from rampdraft.model.fields.values import KINDS
from rampdraft.model.presets import NAMES
from rampdraft.model.rolling_shape import COMMON
from rampdraft.model.section import SectionKind
from rampdraft.shop.inspection import When
from rampdraft.shop.order import TAKEN
from rampdraft.shop.remarks import RemarkKind
from rampdraft.shop.tables import HEADS
from rampdraft.shop.welds import WeldKind, WeldShape
from rampdraft.strength.utilisation import FOLDS, LIMIT_STATES, ULTIMATE, YIELD


def _cli() -> Iterator[str]:
    yield from (one for one in HEAD if one)


def _model() -> Iterator[str]:
    yield from GROUP_LABELS.values()
    yield from ONE.values()
    yield from ("Both leaves", *(f"All {GROUP_LABELS[rows].lower()}" for rows in ONE))
    yield from (words for _, words in KINDS)
    yield from _records(Design)
    yield from NAMES.values()
    yield COMMON


def _records(group: type) -> Iterator[str]:
    """Yield what the records of a group of values say, and those of groups within it."""
    for info in fields_of(group):
        if info.record is None:
            yield from _records(info.item_type)
            continue
        yield from (info.record.label, info.record.help)
        if isinstance(info.record, Dim) and info.record.unit:
            yield info.record.unit
        if isinstance(info.record, Choice):
            yield from (words for word, words in info.record.options if re.search("[a-z]{2}", words))


def _geometry() -> Iterator[str]:
    yield from filter(None, get_args(Face))
    yield from (words for bound in BOUNDS for words in (bound.what, bound.way_out))


def _explore() -> Iterator[str]:
    yield from (*proposed.BEST.values(), *proposed.HEADS, *proposed.HELD.values(), *proposed.TOES.values())


def _app() -> Iterator[str]:
    from rampdraft.app import speech
    from rampdraft.app.checklist import checks
    from rampdraft.app.form import entries, help
    from rampdraft.app.proposing import improve_dialog, stock_rows
    from rampdraft.app.sheets import dialog as sheets
    from rampdraft.app.tour.stops import STOPS
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
    yield from sheets.TITLES.values()
    yield from (words for way in sheets.SHOWN for words in way)
    yield from (words for stop in STOPS for words in (stop.title, stop.words))
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
    for title, heads in HEADS.values():
        yield from (title, *(f"{one} [head]" for one in heads))
    yield from get_args(Role)
    yield from ("inner knuckle", "edge upstand left", "edge upstand right")
    yield from ("carrier bracket stub", "carrier bracket plate")
    yield from get_args(WeldKind)
    yield from get_args(WeldShape)
    yield from get_args(RemarkKind)
    yield from (words for one in TAKEN for words in (f"{one.kind} [step]", one.do, one.look))
    yield from (f"{use} [hole]" for use in get_args(HoleUse))
    yield from ("left", "right")
    yield from (
        f"{place} [bench]"
        for place in (*get_args(Body), *get_args(HingeLine), *get_args(Hand), "bay")
        if place
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
    yield from (f"{words} [short]" for words in narrow)


def _strength() -> Iterator[str]:
    yield from (FOLDS, *(basis.name for basis in (LIMIT_STATES, ULTIMATE, YIELD)))


def _mechanics() -> Iterator[str]:
    yield from (*DECK_WORDS.values(), *PLACE_WORDS.values(), *CONTACTS)
    yield from (*get_args(DeckState), *get_args(Remark), *get_args(Way), "wider than the ramp")
    yield from ("front wheel", "middle wheel", "rear wheel", "feet", "footrest", "underside")
    yield from ("anti-tip wheels", "attendant's head", "toe", "joint")


def _drawing() -> Iterator[str]:
    yield from (*get_args(Outcome), *PLACES.values(), *PLACES)


_TABLES: dict[str, Callable[[], Iterator[str]]] = {
    "app": _app,
    "checks": said_by_checks,
    "cli": _cli,
    "drawing": _drawing,
    "explore": _explore,
    "geometry": _geometry,
    "mechanics": _mechanics,
    "export": _export,
    "model": _model,
    "rules": said_by_rules,
    "shop": _shop,
    "strength": _strength,
}


def said_by_tables(room: str) -> list[str]:
    """Return what the tables of a room say, each once, in their order."""
    return list(dict.fromkeys(_TABLES[room]())) if room in _TABLES else []
