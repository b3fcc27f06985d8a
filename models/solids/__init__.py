"""Parts as solids: the only floor below the exporters that knows the CAD kernel."""
