"""The props under the joint and their feet."""

from collections.abc import Iterator
from typing import Final

from rampdraft.errors import StrengthUnknownError
from rampdraft.figures import mm, number, percent
from rampdraft.geometry.members.hinges import PROP_FOOT_THICKNESS_MM
from rampdraft.strength.metal import column_resistance_n, metal_strength_mpa, slender_walls
from rampdraft.strength.uses import Found, Job, MemberUse, UnknownUse, mpa, newton, nm

PROP: Final = "Props as columns"
FOOT: Final = "Feet of the props"


def prop_uses(job: Job) -> Iterator[Found]:
    """Yield what the props and the plates under them use."""
    if not job.design.prop.fitted:
        return
    for key, title, measure, member in (
        ("prop", PROP, _column, "prop left"),
        ("foot", FOOT, _foot, "prop foot left"),
    ):
        try:
            yield measure(job)
        except StrengthUnknownError as unknown:
            yield UnknownUse(key=key, title=title, subject="", why=str(unknown), member=member)


def _column(job: Job) -> Found:
    prop, joint = job.design.prop, job.carried.joint
    force, load, side = job.governed(joint.own_prop_n, joint.prop_n)
    material = job.material(job.design.made_of.rails)
    if material.kind == "timber" or slender_walls(prop.section, material):
        why = (
            "Timber props are not judged: the design holds no strength of timber along the grain."
            if material.kind == "timber"
            else (
                "The walls of the props are so thin that they buckle before they yield (class 4): take a"
                " thicker wall."
            )
        )
        return UnknownUse(key="prop", title=PROP, subject="", why=why, member="prop left")
    resistance = column_resistance_n(prop.section, prop.longest_mm, material, job.basis)

    def work() -> tuple[str, ...]:
        return (
            f"{job.words(load)}; prop {side + 1}",
            (
                f"N = {job.sum_words(newton(joint.own_prop_n), newton(float(joint.prop_n[load, side])))} ="
                f" {newton(force)}"
            ),
            (
                f"{prop.section.text}, pinned at both ends, at its longest, {mm(prop.longest_mm)}: Nb,Rd ="
                f" {newton(resistance)}"
            ),
            f"N / Nb,Rd = {percent(force / resistance)}",
        )

    return MemberUse(
        key="prop",
        title=PROP,
        subject="",
        ratio=force / resistance,
        working=work,
        clause="EN 1993-1-1, 6.3.1, curve c",
        member="prop left",
        load=job.words(load),
    )


def _foot(job: Job) -> MemberUse:
    prop, joint = job.design.prop, job.carried.joint
    force, load, _ = job.governed(joint.own_prop_n, joint.prop_n)
    material = job.material(job.design.made_of.fittings)
    strength = metal_strength_mpa(material, job.basis, welded=material.kind == "aluminium")
    out = max(0.0, (prop.foot_mm - prop.section.width_mm) / 2)
    moment = force / prop.foot_mm * out**2 / 2
    modulus = prop.foot_mm * PROP_FOOT_THICKNESS_MM**2 / 6
    ratio = moment / (modulus * strength)

    def work() -> tuple[str, ...]:
        return (
            f"{job.words(load)}: N = {newton(force)} spread evenly over {mm(prop.foot_mm)} square",
            f"the plate stands out {mm(out)}: M = {nm(moment)}",
            f"W = {mm(prop.foot_mm)} x ({mm(PROP_FOOT_THICKNESS_MM)})2 / 6 = {number(modulus, 0)} mm3",
            f"M / (W f) = {percent(ratio)} with a strength of {mpa(strength)}",
        )

    return MemberUse(
        key="foot",
        title=FOOT,
        subject="",
        ratio=ratio,
        working=work,
        clause="elastic bending",
        member="prop foot left",
        load=job.words(load),
    )
