"""What is left on the supports of what they carry when empty: as users climb, and on twisted ground."""

from dataclasses import dataclass

from rampdraft.checks.demands.carrier.working import DEMANDED, STATICS, TIPS, balance_lines, where
from rampdraft.checks.result import Check, Demand, compose
from rampdraft.checks.subjects import Finding, Measured
from rampdraft.figures import mm, newton, percent
from rampdraft.mechanics.carrier.results import Climb, Standing, Weight
from rampdraft.mechanics.carrier.standing import weights_of
from rampdraft.model.design import Design, Support
from rampdraft.prose import Lines, prose, stated
from rampdraft.units import MM, N


@dataclass(frozen=True, slots=True, kw_only=True)
class _Left:
    """The support with the least share left, in the equilibrium that leaves it so."""

    case: str
    """What has come about, in words."""
    supports: tuple[Support, ...]
    weights: tuple[Weight, ...]
    wheels_n: tuple[N, ...]
    least: int
    empty_n: N
    share: float

    def found(self, subject: str) -> Measured:
        return Measured(
            key="",
            subject=subject,
            value=self.share,
            working=prose(_Left.lines, self),
            text=f"{percent(self.share)} left",
            why=f"{self.supports[self.least].name} has the least.",
        )

    def lines(self) -> Lines:
        left = f"{newton(self.wheels_n[self.least])} / {newton(self.empty_n)}"
        name = self.supports[self.least].name
        return (
            self.case,
            *balance_lines(self.supports, self.weights, self.wheels_n),
            f"{name}: left / empty = {left} = {percent(self.share)}",
        )


def _demand(name: str, title: str, design: Design) -> Demand:
    limit = design.carrier_body.least_share_percent / 100
    text = f"{percent(limit)} of what it carries when empty"
    return Demand.own(f"carrier-{name}", title, "at least", "share", limit, text, DEMANDED)


def share_left(design: Design, standing: Standing, climb: Climb) -> Check:
    """Return what is left on the support that has the least as users climb."""
    stance = None if climb.tips else climb.stance(climb.worst)
    if stance is None:
        finding: Finding = Measured(
            key="", subject=climb.words, value=0.0, working=stated(TIPS), text="none", why="The carrier tips."
        )
    else:
        cargo = (standing.cargo,) if climb.cargo and standing.cargo else ()
        finding = _Left(
            case=where(design, climb, climb.worst),
            supports=standing.supports,
            weights=(*standing.weights, *cargo, *weights_of(design, climb, climb.worst)),
            wheels_n=stance.wheels_n,
            least=stance.least,
            empty_n=float(standing.empty_wheels_n[stance.least]),
            share=stance.share,
        ).found(climb.words)
    return compose(_demand("share", "Load left on every support", design), finding)


def twist(design: Design, standing: Standing) -> Check:
    """Return what is left on the wheel that has the least on twisted ground."""
    low, twisted = mm(design.carrier_body.twist_mm), standing.worst_twist
    assert twisted is not None
    lowered = standing.supports[twisted.lowered].name
    left = _Left(
        case=f"ground under {lowered} {low} below the plane of the others, carrier empty, jacks up",
        supports=standing.supports,
        weights=standing.weights,
        wheels_n=tuple(twisted.wheels_n.tolist()),
        least=twisted.least,
        empty_n=float(standing.empty_wheels_n[twisted.least]),
        share=twisted.share,
    )
    title = "Load left on every wheel on twisted ground"
    return compose(_demand("twist", title, design), left.found(f"{low} of twist, {lowered} low"))


def rocks(design: Design, standing: Standing) -> Check:
    """Return whether every support still carries some of the body on twisted ground: else it rocks on the
    others.
    """
    rocking = max(standing.twisted, key=lambda one: len(one.lifted))
    low, lifted = standing.supports[rocking.lowered].name, rocking.lifted
    cure = "Softer springs or ballast cure that."
    finding = Measured(
        key="",
        subject=f"{mm(design.carrier_body.twist_mm)} of twist",
        value=float(not lifted),
        working=prose(_rocks_lines, design.carrier_body.twist_mm, low, lifted),
        why=f"It rocks on the others, {low} or {lifted[0]} in the air. {cure}" if lifted else "",
    )
    title = "Carrier rests on every support on twisted ground"
    return compose(Demand.own("carrier-rocks", title, "is", "yes/no", 1.0, "demanded", STATICS), finding)


def _rocks_lines(twist: MM, low: str, lifted: tuple[str, ...]) -> Lines:
    if lifted:
        under = f"with the ground under {low} {mm(twist)} low"
        return (f"{under}, {' and '.join(lifted)} carries nothing of the body",)
    under = f"with the ground under any one support {mm(twist)} low"
    return (f"{under}, every support carries some of the body",)
