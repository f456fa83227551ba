"""Benchmarks, run by hand: ``python -m tests.bench NAME``. Nothing here is a timed assertion."""
