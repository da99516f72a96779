"""Reference data as tables, each row with unit and source; embedded weather; the demo house."""
