"""What is made: parts, the setting out that finds their numbers, and their solids."""
