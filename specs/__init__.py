"""What is asked for: the written spec, read, checked and turned into frozen records."""
