"""What tests of the store ask for."""

from a_server import here, on_both  # noqa: F401  # fixtures
