"""Whether the carrier stands steadily on its supports before anybody climbs: on ground that is twisted, and
off the ground at its end.
"""

from collections.abc import Iterator

from rampdraft.checks.demands.steadiness import STATICS, TIPS, Left, share_demand
from rampdraft.checks.result import Check, Demand, Finding, Measured, Subjects, Unjudged, compose
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.carrier.results import Standing
from rampdraft.model.design import Design
from rampdraft.units import KG, MM
from rampdraft.words.figures import kg, mm
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say


def unladen_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the checks of the carrier on its supports for which nobody has to climb."""
    design, standing = subjects.design, subjects.unladen
    if not isinstance(standing, Standing):
        return
    if standing.twisted:
        yield _twist(design, standing)
        yield _rocks(design, standing)
    yield _off_ground(design, standing)


def _twist(design: Design, standing: Standing) -> Check:
    low, twisted = mm(design.carrier_body.twist_mm), standing.worst_twist
    assert twisted is not None
    lowered = standing.supports[twisted.lowered].name
    left = Left(
        case=say(
            "ground under {support} {low} below the plane of the others, carrier empty, jacks up",
            support=lowered,
            low=low,
        ),
        supports=standing.supports,
        weights=standing.weights,
        wheels_n=tuple(twisted.wheels_n.tolist()),
        least=twisted.least,
        empty_n=float(standing.empty_wheels_n[twisted.least]),
        share=twisted.share,
    )
    return compose(
        share_demand("twist", say("Least wheel load on uneven ground"), design),
        left.found(say("{twist} of twist, {support} low", twist=low, support=lowered)),
    )


def _rocks(design: Design, standing: Standing) -> Check:
    """Return whether every support still carries some of the body on twisted ground: else it rocks on the
    others.
    """
    rocking = max(standing.twisted, key=lambda one: len(one.lifted))
    low, lifted = standing.supports[rocking.lowered].name, rocking.lifted
    cure = say("Softer springs or ballast cure that.")
    return compose(
        Demand.own(
            "carrier-rocks",
            say("Carrier rests on every support on twisted ground"),
            "is",
            "yes/no",
            1.0,
            say("every support carries some"),
            STATICS,
        ),
        Measured(
            key="",
            subject=say("{twist} of twist", twist=mm(design.carrier_body.twist_mm)),
            value=float(not lifted),
            working=prose(_rocks_lines, design.carrier_body.twist_mm, low, lifted),
            why=say(
                "It rocks on the others, {one} or {other} in the air. {cure}",
                one=low,
                other=lifted[0],
                cure=cure,
            )
            if lifted
            else "",
        ),
    )


def _rocks_lines(twist: MM, low: str, lifted: tuple[str, ...]) -> Lines:
    if lifted:
        return (
            say(
                "with the ground under {low} {twist} low, {supports} carries nothing of the body",
                low=low,
                twist=mm(twist),
                supports=say(" and ").join(lifted),
            ),
        )
    return (
        say(
            "with the ground under any one support {twist} low, every support carries some of the body",
            twist=mm(twist),
        ),
    )


def _off_ground(design: Design, standing: Standing) -> Check:
    carrier, drop = design.carrier, standing.loaded_drop_mm
    room = edge_height_mm(design) - carrier.end_depth_mm
    if drop is None:
        finding: Finding = Unjudged(
            key="", subject=say("deck loaded"), why=f"{say(TIPS)} {say('Heaviest user on the deck edge.')}"
        )
    else:
        cargo = design.carrier_body.cargo_kg if standing.cargo else 0.0
        finding = Measured(
            key="",
            subject=say("deck loaded"),
            value=drop,
            working=prose(_drop_lines, drop, cargo, carrier.deck_height_mm, carrier.end_depth_mm),
        )
    return compose(
        Demand.own(
            "carrier-drop",
            say("Deck edge stays off the ground"),
            "at most",
            "mm",
            room,
            say("{room}, then the carrier's end lies on the ground", room=mm(room)),
            STATICS,
        ),
        finding,
    )


def _drop_lines(drop: MM, cargo: KG, height: MM, depth: MM) -> Lines:
    return (
        say(
            "drop of the deck edge under cargo of {cargo} and the heaviest user standing on it = {drop}",
            cargo=kg(cargo),
            drop=mm(drop),
        )
        if cargo
        else say("drop of the deck edge under the heaviest user standing on it = {drop}", drop=mm(drop)),
        say(
            "room = deck height, empty − end depth = {height} − {depth} = {room}",
            height=mm(height),
            depth=mm(depth),
            room=mm(height - depth),
        ),
    )
