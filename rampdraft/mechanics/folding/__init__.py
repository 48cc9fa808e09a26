"""The fold: bodies, certified clearance, the map of poses, the search for a way."""
