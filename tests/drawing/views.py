"""All views of a ramp, by name, each as its marks."""

from collections.abc import Iterator

from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.charts import clearance_chart, force_chart
from rampdraft.drawing.details import details
from rampdraft.drawing.fold_map import fold_map
from rampdraft.drawing.from_end import from_end
from rampdraft.drawing.grips.measured import measured
from rampdraft.drawing.grips.ramp import standing_grips
from rampdraft.drawing.handling import handle_marks, hands_at
from rampdraft.drawing.ink import Ink
from rampdraft.drawing.insets import with_insets
from rampdraft.drawing.part import end_view, part_view
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.rolling import rolling_sheet
from rampdraft.drawing.rolling_words import ALL_WAYS, facing_of, spots
from rampdraft.drawing.room import room_view, swept_room
from rampdraft.drawing.sheet import LANDSCAPE_MM, TitleBlock, check_line, frame_marks
from rampdraft.drawing.side import nearest_marks, side_places, standing_view, stowed_view
from rampdraft.drawing.solid.scene import Solid, Stand
from rampdraft.drawing.strength import loads_of_use, strength_picture
from rampdraft.drawing.templates import templates
from rampdraft.drawing.users.measured import measured_view
from rampdraft.drawing.users.silhouette import user_picture
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import linkage
from rampdraft.mechanics.rolled import AlongSite
from rampdraft.mechanics.rolling.results import CannotRoll
from rampdraft.mechanics.rolling.roll import roll
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.rolling_shape import shape_of

PER_MM = 10.0


def views(evaluation: Evaluation) -> Iterator[tuple[str, tuple[Ink, ...]]]:
    """Yield every view of a design with its name."""
    design, site = evaluation.design, evaluation.sites[0]
    standing = standing_view(evaluation, site, PER_MM)
    yield "standing", standing.marks
    yield "insets", with_insets(standing, side_places(evaluation, site), standing.box, PER_MM).marks
    yield "stowed", stowed_view(evaluation, PER_MM).marks
    yield "plan", plan_view(evaluation, per_mm=PER_MM).marks
    yield "end", from_end(design, Solid(evaluation), Stand(pose=site.pose, drop_mm=0.0), per_mm=PER_MM).marks
    yield "room", room_view(evaluation, per_mm=PER_MM, swept=swept_room(evaluation)).marks
    yield "nearest", nearest_marks(evaluation.fold.clearance.tightest, PER_MM)
    yield "fold map", fold_map(evaluation.clearance_map, design, evaluation.path, 1.0).marks
    yield "clearance", clearance_chart(evaluation).marks
    yield "force", force_chart(evaluation).marks
    for load in loads_of_use(evaluation)[:2]:
        yield f"strength {load}", strength_picture(evaluation, load).marks
    if evaluation.standing is not None:
        yield "carrier side", carrier_side(design, evaluation.standing).marks
        yield "carrier end", carrier_end(design, evaluation.standing).marks
    yield from ((f"detail {one.key}", one.draw(2.0).marks) for one in details(evaluation))
    yield from _made(evaluation)
    yield from _held(evaluation)
    yield from _rolling(evaluation)
    yield (
        "sheet",
        (*frame_marks(LANDSCAPE_MM, BLOCK, lambda words, _room, size: (words, size)), *check_line(0, 0)),
    )


BLOCK = TitleBlock(
    title="", kind="", number="", author="", date="", revision="1", scale="", sheet=1, sheets=1, caution=""
)


def _made(evaluation: Evaluation) -> Iterator[tuple[str, tuple[Ink, ...]]]:
    """Yield parts, templates and steps of assembly."""
    for part in evaluation.parts:
        yield f"part {part.number}", part_view(part).marks
        for which, cut in enumerate(part.piece.ends):
            if cut.kind != "square":
                yield f"end {part.number} {which}", end_view(part, which, per_mm=1.0).marks
    for number, template in enumerate(templates(evaluation)):
        yield f"template {number}", template.picture.marks


def _held(evaluation: Evaluation) -> Iterator[tuple[str, tuple[Ink, ...]]]:
    """Yield what is held, and what is pulled."""
    design, site = evaluation.design, evaluation.sites[0]
    for share in (0.1, 0.5, 0.9):
        where = linkage(design).placings(evaluation.path.pose(share))
        yield f"hands {share}", handle_marks(design, where, hands_at(evaluation, share), PER_MM)
    for grip in standing_grips(evaluation, site):
        for way in grip.ways:
            yield f"grip {way.path}", measured(grip, way.path, PER_MM)


def _rolling(evaluation: Evaluation) -> Iterator[tuple[str, tuple[Ink, ...]]]:
    """Yield the first user on the first site each way, and what is measured of every user."""
    design, site = evaluation.design, evaluation.sites[0]
    surfaces = Surfaces(design, evaluation.assembly, site)
    for way in ALL_WAYS:
        facing, number = facing_of(way)
        found = roll(design, 1, site, surfaces, facing, step_mm=20.0)
        if isinstance(found, CannotRoll):
            continue
        along = AlongSite(design, 1, site, surfaces, facing)
        for spot in spots(found, number):
            sheet = rolling_sheet(evaluation, site, found, way, spot.worst, (156.0, 108.0))
            yield f"rolling {way} {spot.key}", sheet.picture(along.at(spot.worst.front_mm)).marks
    for number, user in enumerate(design.use.users, start=1):
        path = f"use.users[{number}]"
        yield f"measured {number}", measured_view(user, path, PER_MM).marks
        yield f"user {number}", user_picture(shape_of(user)).marks
