"""The command line: a thin client of the library."""
