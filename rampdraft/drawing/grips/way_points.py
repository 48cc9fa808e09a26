"""The grips of the fold map: the way-points between both ends of the path, with two angles each."""

from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.fold_map import map_point
from rampdraft.drawing.grips.grip import Grip, Slide
from rampdraft.mechanics.folding.folding import closing_sense
from rampdraft.mechanics.folding.way_points import moved, own_stages, reachable, with_stages
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design

_STAGES: Final = "fold_stages"


@dataclass(frozen=True, slots=True, kw_only=True)
class WayPointGrip(Grip):
    """A way-point. A design with the usual sequence first takes it as stages of its own."""

    number: int
    """Counted along the path from 0, the deployed pose."""
    path: FoldPath
    measures: bool = False

    def stepped(self, across: int, up: int, *, fine: bool = False) -> tuple[float, ...]:
        """Return the angles one step further; both in tenths, as stages are written."""
        # `super()` knows no class of the slots that dataclass makes anew.
        return tuple(round(value, 1) for value in Grip.stepped(self, across, up, fine=fine))

    def put(self, design: Design, values: tuple[float, ...]) -> Design:
        """Return the design with the way-point where the joint is closed so far, and the inner leaf up so
        far, in degrees.
        """
        if values == self.values:
            return design
        closing, inner = values
        corner = reachable(design, (inner, closing_sense(design) * closing))
        return with_stages(design, moved(own_stages(design, self.path), self.number, corner))


def way_point_grips(design: Design, path: FoldPath) -> tuple[WayPointGrip, ...]:
    """Return the grips of a path on its map; its ends are set elsewhere."""
    found: list[WayPointGrip] = []
    for number, pose in enumerate(path.poses[1:-1], start=1):
        at = map_point(design, pose)
        closing, inner = (round(angle, 9) for angle in at)
        ways = (
            Slide(path=_STAGES, value=closing, toward=(1.0, 0.0), low=0.0, high=180.0),
            Slide(path=_STAGES, value=inner, toward=(0.0, 1.0), low=-90.0, high=180.0),
        )
        found.append(WayPointGrip(key=f"way-point {number}", at=at, ways=ways, number=number, path=path))
    return tuple(found)
