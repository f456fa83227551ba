"""Trees broken on purpose, to see that check, proof or compare notices every break: ``python -m tests.mutation``."""
