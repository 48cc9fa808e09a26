"""What the ramp carries as plain data: the loads with their worst places, and the members with both
verdicts.
"""

from typing import Any

from rampdraft.checks.demands.strength import MemberRow, member_rows
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.loading.loads import Axle, Footprint, Load, PerMetre, Rolling
from rampdraft.mechanics.loading.results import WorstPlace

Json = Any


def loads_data(evaluation: Evaluation) -> list[Json]:
    """Return each load, what it is made of, and where it bends a rail most."""
    carried = evaluation.carried
    return [
        _load(load, place if carried.held else None)
        for load, place in zip(carried.loads, carried.worst, strict=True)
    ]


def strength_data(evaluation: Evaluation) -> list[Json]:
    """Return each family of members, worst first."""
    return [_member(row) for row in member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)]


def _load(load: Load, place: WorstPlace | None) -> Json:
    rolling = isinstance(load, Rolling)
    forwards, backwards = load.ways[:2] if rolling else ((), ())
    return {
        "key": load.key,
        "words": load.words,
        "kind": "rolling" if rolling else "patch" if isinstance(load, Footprint) else "by the metre",
        "force_n": None if isinstance(load, PerMetre) else load.force_n,
        "force_n_mm": load.n_mm if isinstance(load, PerMetre) else None,
        "bump_factor": load.factor if rolling else 1.0,
        "axles": _axles(forwards),
        "axles_backwards": _axles(backwards),
        "grade": load.grade if rolling else None,
        "mass_centre_height_mm": load.mass_centre_mm if rolling else None,
        "worst": None if place is None else _place(place),
    }


def _axles(axles: tuple[Axle, ...]) -> list[Json]:
    return [{"offset_mm": one.offset_mm, "force_n": one.force_n, "track_mm": one.track_mm} for one in axles]


def _place(place: WorstPlace) -> Json:
    return {
        "member": f"{place.leaf} rail {place.rail}",
        "section_mm": place.section_mm,
        "first_axle_mm": place.first_axle_mm,
        "across_mm": place.across_mm,
        "forwards": place.forwards,
        "moment_nmm": place.moment_nmm,
    }


def _member(row: MemberRow) -> Json:
    return {
        "key": row.key,
        "name": row.name,
        "strength_used": row.share,
        "overall_factor": row.factor,
        "status": row.status,
        "result": row.result,
        "load": row.load,
        "member": row.member,
        "why": row.why,
    }
