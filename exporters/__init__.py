"""Bytes on disk: every file that a package holds."""
