"""What members can take: design basis, steel, aluminium, timber, joints."""
