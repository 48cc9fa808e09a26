"""Way-points as stages of the design: moved, added, taken away, and kept where the leaves can be."""

from dataclasses import replace

import pytest

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.way_points import added, moved, nearest_share, reachable, removed
from rampdraft.model.design import FoldStage
from rampdraft.model.starter import starter_design


def corners(stages: tuple[FoldStage, ...]) -> list[list[tuple[float, float]]]:
    return [[*stage.via_deg, (stage.inner_deg, stage.fold_deg)] for stage in stages]


def test_a_way_point_is_moved_added_and_taken_away_where_it_stands() -> None:
    stages = (
        FoldStage(say="a", inner_deg=20, fold_deg=-40, via_deg=((0, -10),)),
        FoldStage(say="b", inner_deg=90, fold_deg=-180),
    )
    assert corners(moved(stages, 1, (5, -12))) == [[(5, -12), (20, -40)], [(90, -180)]]
    assert corners(moved(stages, 3, (80, -170))) == [[(0, -10), (20, -40)], [(80, -170)]]
    assert corners(added(stages, 3, (50, -90))) == [[(0, -10), (20, -40)], [(50, -90), (90, -180)]]
    assert corners(removed(stages, 2)) == [[(0, -10)], [(90, -180)]]
    assert [stage.say for stage in removed(removed(stages, 1), 1)] == ["b"]


def test_the_sentence_of_a_stage_tells_the_angle_it_now_stops_at() -> None:
    stages = (
        FoldStage(say="Bring the inner leaf to 47° and the outer leaf to 137°.", inner_deg=47, fold_deg=-137),
    )
    (stage,) = moved(stages, 1, (50, -120))
    assert stage.say == "Bring the inner leaf to 50° and the outer leaf to 120°."


def test_the_nearest_place_of_the_path_is_found_on_it_and_beside_it() -> None:
    path = evaluate(starter_design()).fold.path
    for share in (0.0, 0.2, 0.7, 1.0):
        assert nearest_share(path, path.pose(share)) == pytest.approx(share, abs=1e-6)
    assert nearest_share(path, Pose(-2.0, 0.5)) == 0.0


@pytest.mark.parametrize(("closing", "sense"), [("faces", 1.0), ("backs", -1.0)])
def test_the_joint_turns_only_the_way_it_closes(closing: str, sense: float) -> None:
    start = starter_design()
    design = replace(start, fold=replace(start.fold, closing=closing))  # type: ignore[arg-type]
    assert reachable(design, (-100.0, sense * 200.0)) == (-90.0, sense * 180.0)
    assert reachable(design, (181.0, -sense * 5.0)) == (180.0, 0.0)
    assert reachable(design, (3.5, sense * 90.0)) == (3.5, sense * 90.0)
