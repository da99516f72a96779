"""Jobs: frozen proposals, their reproduction, status, readings, change orders, and folders of houses. No cost."""
