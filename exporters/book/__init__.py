"""The plan book: what stands in it as plain data, and its pages by a typesetter."""
