"""The form: every value of the design, and how it is typed."""
