"""What goes on paper, worked out as plain records: no CAD kernel, no file format."""
