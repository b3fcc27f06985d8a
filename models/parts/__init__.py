"""Parts as plain records: a blank, what is taken out of it, and how parts meet."""
