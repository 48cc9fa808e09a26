"""Rolling over it: where wheels go, how a user lies on them, what grounds, tips and stops."""
