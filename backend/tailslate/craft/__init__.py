"""The trade's arithmetic: pure functions in SI units, one topic a file. See README.md."""
