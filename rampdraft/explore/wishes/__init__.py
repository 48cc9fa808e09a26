"""Which wishes of a survey exclude each other, proved before any search."""
