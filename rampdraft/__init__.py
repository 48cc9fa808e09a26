"""rampdraft: a parametric drafting tool for two-section folding ramps."""

import os

# A ramp's matrices are small: threads that share one wait longer for each other than they calculate, and on a
# busy machine ten times as long. numpy's library reads this as it is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
