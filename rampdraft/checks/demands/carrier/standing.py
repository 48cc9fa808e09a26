"""Whether the carrier stands on its supports at all, and off the ground with its load aboard."""

from rampdraft.checks.demands.carrier.working import STATICS, TIPS, place_of
from rampdraft.checks.result import Check, Demand, compose
from rampdraft.checks.subjects import Finding, Measured, Unjudged
from rampdraft.figures import kg, mm, newton
from rampdraft.mechanics.carrier.results import CannotStand, CarrierStanding, Standing, Weight
from rampdraft.model.design import Design, Support
from rampdraft.prose import Lines, prose, stated
from rampdraft.units import KG, MM, N


def stands(standing: CarrierStanding) -> Check:
    """Return whether it stands empty."""
    if isinstance(standing, CannotStand):
        why = f"{standing.why[0].upper()}{standing.why[1:]}: {standing.way_out}."
        finding = Measured(key="", subject="carrier empty", value=0.0, working=stated(why), why=why)
    else:
        pushes, wheels = standing.empty_push_n.tolist(), standing.empty_wheels_n.tolist()
        carried = tuple(zip(standing.supports, pushes, wheels, strict=True))
        work = prose(_stands_lines, standing.weights, carried)
        finding = Measured(key="", subject="carrier empty", value=1.0, working=work)
    title = "Carrier stands on its supports"
    return compose(Demand.own("carrier-stands", title, "is", "yes/no", 1.0, "demanded", STATICS), finding)


def _stands_lines(weights: tuple[Weight, ...], carried: tuple[tuple[Support, N, N], ...]) -> Lines:
    whole, pressed = sum(weight.force_n for weight in weights), sum(wheel for _, _, wheel in carried)
    return (
        *(f"{weight.words}: {newton(weight.force_n)}, {place_of(weight)}" for weight in weights),
        *(
            f"{support.name}: {newton(push)}"
            + (f", with what is below its spring {newton(wheel)} on the ground" if wheel > push else "")
            for support, push, wheel in carried
        ),
        f"on the ground in all = {newton(pressed)}, all weights = {newton(whole)}",
    )


def off_ground(design: Design, standing: Standing) -> Check:
    """Return whether the deck edge stays off the ground with its load aboard."""
    carrier, drop = design.carrier, standing.loaded_drop_mm
    room = carrier.deck_height_mm - carrier.end_depth_mm
    if drop is None:
        why = f"{TIPS} Heaviest user on the deck edge."
        finding: Finding = Unjudged(key="", subject="deck loaded", why=why)
    else:
        cargo = design.carrier_body.cargo_kg if standing.cargo else 0.0
        work = prose(_drop_lines, drop, cargo, carrier.deck_height_mm, carrier.end_depth_mm)
        finding = Measured(key="", subject="deck loaded", value=drop, working=work)
    text = f"{mm(room)}, then the carrier's end lies on the ground"
    title = "Deck edge stays off the ground"
    return compose(Demand.own("carrier-drop", title, "at most", "mm", room, text, STATICS), finding)


def _drop_lines(drop: MM, cargo: KG, height: MM, depth: MM) -> Lines:
    aboard = f"cargo of {kg(cargo)} and " if cargo else ""
    return (
        f"drop of the deck edge under {aboard}the heaviest user standing on it = {mm(drop)}",
        f"room = deck height, empty − end depth = {mm(height)} − {mm(depth)} = {mm(height - depth)}",
    )
