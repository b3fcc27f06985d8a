"""What to buy, how to cut it and in which order: a reader of an assembly."""
