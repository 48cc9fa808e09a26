"""A design that passes made lighter, cheaper or quicker to make, one thing after another, still passing."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter
from rampdraft.explore.proposals.alter import BOTH, LeafName, put
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.cures.cure import guard_mm, upright
from rampdraft.explore.proposals.supply import boxes, flats, guards, plates_mm, rounds, slats
from rampdraft.explore.proposals.worth import Worth, mass_kg
from rampdraft.geometry.sections import properties
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.model.section import Section

Move = Callable[[Evaluation], Iterator[Design | None]]
"""Yields designs that may be better, the best first."""

_FEW: Final = 4
"""So many are tried of each move at a time."""
_MOST: Final = 12
"""So often each is done in a round at most."""
_GAIN: Final = 1e-6


def bettered(bench: Bench, evaluation: Evaluation, worth: Worth) -> Evaluation:
    """Return the design after every move that makes it worth more and lets all pass, until none does.

    Rolling is looked at after each round of all moves: where somebody does not come through any more, the
    round's moves are gone through again with rolling looked at in each.
    """
    bench.passes(evaluation)
    while not bench.spent:
        found = _round(bench, evaluation, worth, rolling=False)
        if found is evaluation:
            return evaluation
        if not bench.passes(found):
            return _round(bench, evaluation, worth, rolling=True)
        evaluation = found
    return evaluation


def lightened(bench: Bench, evaluation: Evaluation, let: frozenset[str]) -> Evaluation:
    """Return the design made lighter as long as nothing else fails than kinds of checks that may for now."""
    bench.let = let
    try:
        return _round(bench, evaluation, mass_kg, rolling=False)
    finally:
        bench.let = frozenset()


def _round(bench: Bench, evaluation: Evaluation, worth: Worth, *, rolling: bool) -> Evaluation:
    for move in MOVES:
        for _ in range(_MOST):
            found = _moved(bench, evaluation, move, worth, rolling=rolling)
            if found is None:
                break
            evaluation = found
    return evaluation


def _moved(
    bench: Bench, evaluation: Evaluation, move: Move, worth: Worth, *, rolling: bool
) -> Evaluation | None:
    """Return the first design of a move that is worth more and passes; None where none of the first few
    does.
    """
    wanted = (one for one in move(evaluation) if one is not None and one != evaluation.design)
    for design in islice(wanted, _FEW):
        trial = bench.on(design, evaluation) if bench.keeps(design) else None
        if trial is None or worth(trial) >= worth(evaluation) - _GAIN:
            continue
        if bench.passes(trial) if rolling else bench.passes_still(trial):
            return trial
    return None


def _area(section: Section) -> float:
    return properties(section).area_mm2


def _lighter(found: tuple[Section, ...] | list[Section], now: Section, least: float = 0.5) -> list[Section]:
    """Return sections that are lighter and not much weaker, the heaviest of them last, the few lightest that
    may do first.
    """
    modulus = properties(now).elastic_modulus_mm3
    lighter = [one for one in found if _area(one) < _area(now) - 1e-9]
    strong = [one for one in lighter if properties(one).elastic_modulus_mm3 >= least * modulus]
    return strong[:_FEW]


def _rails(evaluation: Evaluation) -> Iterator[Design | None]:
    design = evaluation.design
    now = max((design.inner_leaf.rail_section, design.outer_leaf.rail_section), key=_area)
    for section in _lighter(upright(design), now):
        changed = design
        for name in BOTH:
            changed = alter.with_rails(changed, name, section)
        yield changed


def _rails_of(name: LeafName) -> Move:
    def move(evaluation: Evaluation) -> Iterator[Design | None]:
        design = evaluation.design
        now: Section = getattr(design, name).rail_section
        same = [
            one
            for one in boxes(design, design.made_of.rails)
            if (one.depth_mm, one.width_mm) == (now.depth_mm, now.width_mm) and _area(one) < _area(now) - 1e-9
        ]
        yield from (alter.with_rails(design, name, one) for one in same)

    return move


def _fewer_rails(evaluation: Evaluation) -> Iterator[Design | None]:
    yield alter.with_rail_count(evaluation.design, len(evaluation.design.inner_leaf.rail_lanes_mm) - 1)


def _thinner_slats(evaluation: Evaluation) -> Iterator[Design | None]:
    design, least = evaluation.design, guard_mm(evaluation)
    now = alter.slat_of(design.inner_leaf)
    thinner = [one for one in slats(design) if one.depth_mm < now.depth_mm]
    for section in thinner[-2 * _FEW :]:
        yield alter.guarded(alter.with_slats(design, section), least)
    for section in slats(design):
        if section.depth_mm == now.depth_mm and section.width_mm != now.width_mm:
            yield alter.with_slats(design, section)


def _crosses_of(name: LeafName) -> Move:
    def move(evaluation: Evaluation) -> Iterator[Design | None]:
        design = evaluation.design
        leaf = getattr(design, name)
        yield alter.with_crosses(design, name, len(leaf.cross_positions_mm) - 1)
        for section in _lighter(boxes(design, design.made_of.cross_members), leaf.cross_section, 0.4):
            if section.depth_mm <= leaf.rail_section.depth_mm:
                yield put(design, **{f"{name}__cross_section": section})

    return move


def _lighter_guards(evaluation: Evaluation) -> Iterator[Design | None]:
    design = evaluation.design
    now = alter.guard_of(design.inner_leaf)
    if now is None:
        return
    tall = design.inner_leaf.slat_thickness_mm + guard_mm(evaluation)
    for section in guards(design):
        if section.depth_mm >= tall and section.width_mm >= 3 and _area(section) < _area(now) - 1e-9:
            yield alter.with_guards(design, section)


def _smaller_round(path: str, least: float) -> Move:
    def move(evaluation: Evaluation) -> Iterator[Design | None]:
        design = evaluation.design
        now = value_at(design, path)
        sizes = [
            one.depth_mm for one in rounds(design, design.made_of.fittings) if least <= one.depth_mm < now
        ]
        for size in reversed(sizes[-_FEW:]):
            yield put(design, **{path.replace(".", "__"): size})

    return move


def _thinner_plate(path: str, least: float) -> Move:
    def move(evaluation: Evaluation) -> Iterator[Design | None]:
        design = evaluation.design
        now = value_at(design, path)
        sizes = [one for one in plates_mm(design, design.made_of.fittings) if least <= one < now]
        for size in sizes[-_FEW:]:
            yield put(design, **{path.replace(".", "__"): size})

    return move


def _lighter_stop(evaluation: Evaluation) -> Iterator[Design | None]:
    design, stop = evaluation.design, evaluation.design.stop
    if stop.kind == "lap":
        for size in plates_mm(design, design.made_of.fittings):
            if 5 <= size < stop.section.depth_mm:
                yield put(design, stop__section=replace(stop.section, depth_mm=size))
        if stop.fixed_length_mm > 100:
            yield put(design, stop__fixed_length_mm=stop.fixed_length_mm - 30)
        if stop.lap_mm > 40:
            yield put(design, stop__lap_mm=stop.lap_mm - 20)
    elif stop.kind == "butt":
        same = [
            one
            for one in flats(design, design.made_of.fittings)
            if one.width_mm == stop.section.width_mm and 15 <= one.depth_mm < stop.section.depth_mm
        ]
        yield from (put(design, stop__section=one) for one in same)


def _shorter_bridge(evaluation: Evaluation) -> Iterator[Design | None]:
    bridge = evaluation.design.bridge
    reach = bridge.length_mm - bridge.over_deck_mm
    if bridge.fitted and reach > 50:
        yield alter.with_bridge(evaluation.design, reach - 10)


def _shorter_toe(evaluation: Evaluation) -> Iterator[Design | None]:
    design = evaluation.design
    if design.toe.kind == "flap":
        yield alter.with_toe(design, design.toe.length_mm - 30)


def _smaller_prop(evaluation: Evaluation) -> Iterator[Design | None]:
    design = evaluation.design
    if design.prop.fitted:
        for section in _lighter(boxes(design, design.made_of.rails), design.prop.section, 0.3):
            yield put(design, prop__section=section)
        if design.prop.foot_mm > 80:
            yield put(design, prop__foot_mm=design.prop.foot_mm - 20)


def _shorter(evaluation: Evaluation) -> Iterator[Design | None]:
    design = evaluation.design
    whole = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    yield alter.of_length(design, round(whole * 0.99))


def _fewer_knuckle_mm(evaluation: Evaluation) -> Iterator[Design | None]:
    joint = evaluation.design.joint
    if joint.knuckle_length_mm > 25:
        yield put(evaluation.design, joint__knuckle_length_mm=joint.knuckle_length_mm - 5)


MOVES: Final[tuple[Move, ...]] = (
    _fewer_rails,
    _thinner_slats,
    _rails,
    _rails_of("outer_leaf"),
    _rails_of("inner_leaf"),
    _crosses_of("outer_leaf"),
    _crosses_of("inner_leaf"),
    _lighter_guards,
    _smaller_round("joint.knuckle_diameter_mm", 20.0),
    _smaller_round("deck_hinge.knuckle_diameter_mm", 20.0),
    _lighter_stop,
    _thinner_plate("bridge.thickness_mm", 3.0),
    _shorter_bridge,
    _thinner_plate("toe.thickness_mm", 3.0),
    _shorter_toe,
    _smaller_prop,
    _fewer_knuckle_mm,
    _smaller_round("joint.pin_diameter_mm", 8.0),
    _smaller_round("deck_hinge.pin_diameter_mm", 8.0),
    _shorter,
)
"""In the order in which they save most."""
