"""What the plan book draws besides the sheets: pictures of steps, the cover, labels."""
