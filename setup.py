"""What pyproject.toml cannot say: the samples lie once, beside the package, and are installed inside it."""

from setuptools import find_packages, setup

setup(
    packages=[*find_packages(include=["rampdraft", "rampdraft.*"]), "rampdraft.samples"],
    package_dir={"rampdraft.samples": "samples"},
)
