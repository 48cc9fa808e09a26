"""The plan of the proof load: load, places and the set that may stay."""

import pytest
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.fields.paths import with_value
from rampdraft.shop.inspection import inspection_of
from rampdraft.shop.proof import PROOF_FACTOR, SET_MM, proof_of


def test_the_load_is_that_of_the_rule() -> None:
    """125 % of the rated load: Singapore, Road Traffic (Motor Vehicles, Construction and Use) Rules, 97E (2)
    (b).
    """
    evaluation = evaluate(with_value(timber_ramp(), "use.rated_load_kg", 240.0))
    proof = proof_of(evaluation.design, evaluation.carried)
    assert proof.load_kg == 300.0
    assert proof.steps_kg == (120.0, 240.0, 300.0)


def test_places_lie_on_the_ramp_and_one_is_the_joint() -> None:
    evaluation = evaluate(timber_ramp())
    design = evaluation.design
    proof = proof_of(design, evaluation.carried)
    whole = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    assert all(0 < place.from_hinge_mm < whole for place in proof.places)
    (joint,) = (place for place in proof.places if not place.at)
    assert joint.from_hinge_mm == design.inner_leaf.length_mm
    for place in proof.places:
        if place.at:
            beyond = place.from_hinge_mm - joint.from_hinge_mm
            assert (beyond <= 0) if place.at == "inner" else (beyond >= 0)
    assert {place.across for place in proof.places} == {-1, 0, 1}


def test_the_sag_grows_with_the_load_and_the_set_with_the_sag() -> None:
    plans = [
        proof_of(found.design, found.carried)
        for found in (
            evaluate(with_value(timber_ramp(), "use.rated_load_kg", load)) for load in (100.0, 200.0)
        )
    ]
    light, heavy = (plan.sag_mm for plan in plans)
    assert light is not None
    assert heavy is not None
    assert heavy > 1.3 * light
    assert plans[1].set_mm == pytest.approx(max(SET_MM, 0.05 * heavy))
    assert PROOF_FACTOR == 1.25


def test_inspections_are_of_what_the_ramp_has() -> None:
    design = timber_ramp()
    without = inspection_of(with_value(design, "prop.fitted", False))
    fitted = inspection_of(with_value(design, "prop.fitted", True))
    assert not [look for look in without if look.what.startswith("Props")]
    assert [look for look in fitted if look.what.startswith("Props")]
    whens = [look.when for look in fitted]
    assert whens == sorted(whens, key=["before each use", "each month", "each year"].index)
    assert set(whens) == {"before each use", "each month", "each year"}
