"""What may go wrong with a piece, as findings: a reader of an assembly."""
