"""What everything else stands on: vectors and frames, tolerances, errors, findings, tables."""
