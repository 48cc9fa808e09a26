"""rampdraft: a parametric drafting tool for two-section folding ramps."""

__version__ = "0.1.0"
