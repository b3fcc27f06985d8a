"""The tests, and what they share in tests.helpers."""
