"""Things bought and sawn."""
