"""What the random designs have shown the properties: shares of each kind of ramp, each with its floor.

`pytest tests/test_any_design.py -s` prints the table; a share below its floor prints it too.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields
from functools import cache
from importlib import import_module
from pathlib import Path
from random import Random
from typing import get_args

import pytest
from any_design import START, any_design, change, designs, whole_design
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from lots import FromSeed
from tries import tries

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import Design, UserClass
from rampdraft.model.fields.paths import value_at, with_value

DRAWN = 250
START_HAS = {field.name: getattr(START, field.name) != () for field in fields(Design)}
"""Whether the start has something in a group; lists that it leaves empty stay so in many draws."""


def _shape(design: Design) -> Iterator[str]:
    closing, stop, toe = design.fold.closing, design.stop, design.toe
    yield f"closing: {closing}"
    yield f"closing x stop: {closing}, {stop.kind}"
    yield f"toe: {toe.kind}" + (" closed" if toe.kind == "taper" and toe.closed else "")
    yield f"closing x toe: {closing}, {toe.kind}"
    yield f"stop fixed to: {stop.fixed_to}"
    lanes = design.inner_leaf.rail_lanes_mm, design.outer_leaf.rail_lanes_mm
    yield f"lanes: {'shared' if lanes[0] == lanes[1] else 'neighbouring'}"
    yield f"rails: {len(lanes[0])}"
    yield f"stowed: {'upright' if design.fold.stowed_deg == 90 else 'leaning'}"
    yield f"closed: {'parallel' if design.fold.closed_deg == 180 else 'ajar'}"
    for leaf in (design.inner_leaf, design.outer_leaf):
        yield f"cross members: {leaf.cross_fitting if leaf.cross_positions_mm else 'none'}"
        yield f"rail section: {leaf.rail_section.kind}"
        yield f"cross section: {leaf.cross_section.kind}"
        yield f"upstand: {'some' if leaf.upstand_height_mm else 'none'}"
    yield f"prop: {design.prop.fitted}"
    yield f"bridge plate: {design.bridge.fitted}"


def _ground(design: Design) -> Iterator[str]:
    deck = design.carrier.deck_height_mm
    for site in design.sites:
        yield f"site: {site.kind}"
        for (x0, z0), (x1, z1) in zip(site.ground_mm, site.ground_mm[1:], strict=False):
            way = "level" if z1 == z0 else "up" if z1 > z0 else "down"
            yield f"ground: {'step' if x0 == x1 else 'slope'} {way}" if way != "level" else "ground: level"
        if max(z for _, z in site.ground_mm) > deck:
            yield "ground: above the deck"
        if site.cross_slope_percent:
            yield "ground: falls across"
        if site.ground_bears_kpa:
            yield "ground: bears so much"


def _use(design: Design) -> Iterator[str]:
    for support in design.supports:
        yield f"support: {support.kind}" + (" with a gap" if support.gap_mm else "")
    for name, some in (
        ("supports", design.supports),
        ("handles", design.handles),
        ("obstacles", design.obstacles),
        ("own fold stages", design.fold_stages),
        ("own materials", design.materials),
        ("stock", design.stock),
        ("prices", design.prices),
        ("users", design.use.users),
        ("rule sets", design.use.rule_sets),
    ):
        yield f"{name}: {'some' if some else 'none'}"
    for user in design.use.users:
        yield f"user: {user.kind}"
    yield f"assist: {design.assist.kind}"


def traits(design: Design) -> set[str]:
    """Return what kinds of ramp a design is one of."""
    return {*_shape(design), *_ground(design), *_use(design)}


def floor_percent(trait: str) -> int:
    """Return how many designs in a hundred show a trait, at least."""
    rare = {"closing x stop": 4, "closing x toe": 6, "rail section": 12, "cross section": 12, "user": 2}
    rare |= {"support": 5, "rails": 10, "ground": 7, "own fold stages": 15, "obstacles": 15}
    return rare.get(trait.partition(":")[0], 12)


SORTS: dict[str, tuple[object, ...]] = {
    "closing": ("backs", "faces"),
    "closing x stop": tuple(f"{c}, {stop}" for c in ("backs", "faces") for stop in ("none", "lap", "butt")),
    "closing x toe": tuple(f"{c}, {toe}" for c in ("backs", "faces") for toe in ("plain", "taper", "flap")),
    "toe": ("plain", "taper", "taper closed", "flap"),
    "lanes": ("shared", "neighbouring"),
    "stop fixed to": ("inner", "outer"),
    "rails": (2, 3, 4, 5),
    "stowed": ("upright", "leaning"),
    "closed": ("parallel", "ajar"),
    "cross members": ("between", "under", "half_lap", "none"),
    "rail section": ("box", "tube", "flat", "round", "timber"),
    "cross section": ("box", "tube", "flat", "round", "timber"),
    "prop": (True, False),
    "bridge plate": (True, False),
    "site": ("ground", "kerb", "platform"),
    "ground": (
        *("level", "slope up", "slope down", "step up", "step down"),
        *("above the deck", "falls across", "bears so much"),
    ),
    "support": ("spring", "bearer", "bearer with a gap", "jack", "jack with a gap"),
    "assist": ("none", "torsion", "gas"),
    "user": get_args(UserClass),
}
ROWS = (
    *("supports", "handles", "obstacles", "own fold stages", "own materials"),
    *("stock", "users", "rule sets"),
)
EXPECTED = {f"{sort}: {kind}" for sort, kinds in SORTS.items() for kind in kinds} | {
    f"{rows}: {some}" for rows in ROWS for some in ("some", "none")
}
"""Every trait that must be seen."""


@cache
def drawn_by_hypothesis() -> tuple[Design, ...]:
    found: list[Design] = []

    @settings(max_examples=DRAWN, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
    @given(design=any_design())
    def draw(design: Design):
        found.append(design)

    draw()
    return tuple(found)


@cache
def drawn_by_seed() -> tuple[Design, ...]:
    random = Random(8)
    return tuple(whole_design(FromSeed(random)) for _ in range(DRAWN))


def table(shares: Iterable[tuple[str, float, int]]) -> str:
    return "\n".join(
        f"{trait:36}{share:6.1f} %   at least {floor} %" for trait, share, floor in sorted(shares)
    )


@pytest.mark.parametrize("draw", [drawn_by_hypothesis, drawn_by_seed])
def test_the_draws_are_wide(draw: Callable[[], tuple[Design, ...]]):
    """Of what can be built, each kind must be seen so often; told in per cent of it."""
    drawn = draw()
    buildable = [design for design in drawn if not problems_of(design)]
    seen = Counter(trait for design in buildable for trait in traits(design))
    moved = Counter(
        field.name
        for design in buildable
        for field in fields(Design)
        if getattr(design, field.name) != getattr(START, field.name)
    )
    rows = [(trait, 100 * seen[trait] / len(buildable), floor_percent(trait)) for trait in {*EXPECTED, *seen}]
    rows += [
        (f"differs from the start: {name}", 100 * moved[name] / len(buildable), 80 if START_HAS[name] else 20)
        for name in START_HAS
    ]
    share = 100 * len(buildable) / len(drawn)
    rows += [("can be built", share, 50 if draw is drawn_by_hypothesis else 95)]
    told = table(rows)
    print(f"\n{draw.__name__}, {len(drawn)} designs\n{told}")
    # Hypothesis draws by the modules that are loaded too, and so by which tests ran before.
    slack = 0.5 if draw is drawn_by_hypothesis else 1.0
    for trait, percent, floor in rows:
        if trait in EXPECTED or trait == "can be built" or trait.startswith("differs"):
            assert percent >= slack * floor, f"{trait}\n{told}"


def test_some_draws_contradict_themselves():
    share = 100 * sum(bool(problems_of(design)) for design in drawn_by_hypothesis()) / DRAWN
    assert 15 <= share <= 50


def test_a_seed_gives_the_same_designs_each_time():
    first = list(designs(20, seed=3))
    assert first == list(designs(20, seed=3))
    assert first != list(designs(20, seed=4))
    assert len(first) == 20
    assert not any(problems_of(design) for design in first)


def test_most_changes_of_one_field_leave_a_ramp_that_can_be_built():
    lots, tried, kinds = FromSeed(Random(5)), 0, Counter[str]()
    for design in designs(60, seed=5):
        for _ in range(5):
            path, value = change(lots, design)
            assert value != value_at(design, path)
            tried += not problems_of(with_value(design, path, value))
            kinds[type(value).__name__] += 1
    assert tried >= 0.85 * 300
    assert {"float", "str", "bool", "int", "Section", "tuple"} <= set(kinds)


def test_examples_are_the_same_whatever_the_program_has_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found: list[list[int]] = []

    def draw() -> None:
        drawn: list[int] = []

        @settings(max_examples=tries(80))
        @given(st.integers())
        def keep(number: int) -> None:
            drawn.append(number)

        keep()
        found.append(drawn)

    draw()
    (tmp_path / "of_numbers.py").write_text(f"NUMBERS = {list(range(123_457, 223_457, 997))}\n")
    monkeypatch.syspath_prepend(tmp_path)
    import_module("of_numbers")
    draw()
    assert found[0] == found[1]
