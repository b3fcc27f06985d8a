"""Jigs that the set-ups and the glue-ups call for, each with the numbers that it is made by."""
