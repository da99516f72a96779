"""Tables of the air side: sound, ducts, jets, comfort, placing. Each row carries its unit and its source."""
