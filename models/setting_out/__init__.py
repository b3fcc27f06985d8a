"""From the written spec to every number, and from the numbers to an assembly of parts."""
