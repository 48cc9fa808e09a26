"""Where the force of a stop bar stands."""

from rampdraft.model.design import Design
from rampdraft.units import MM


def bearing_arm_mm(design: Design) -> MM:
    """Return the lever arm of the stop's force about the hinge centre.

    A lapping bar presses with its tip: the lap. Butting faces bear on the half of the bar farther from the
    centre, so the force stands a quarter of the bar's depth inside its edge.
    """
    stop = design.stop
    return stop.lap_mm if stop.kind == "lap" else abs(stop.arm_mm) - stop.section.depth_mm / 4
