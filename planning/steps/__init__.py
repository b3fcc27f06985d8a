"""How the piece goes together, step after step."""
