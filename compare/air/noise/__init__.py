"""Sound in octave bands from the unit to the ear, by the fan speed that each hour needs."""
