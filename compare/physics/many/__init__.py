"""The year kernel that keeps no traces: single precision, 64 layouts (or 64 draws of one house) side by side.

Same step as `compare.physics.kernel`, written in vectors (`vector`, `vector_calls`). The year goes in chunks of four
days. Within a chunk the rooms are stepped with all lanes in one name, and what each supply gives is kept; every sixteen
hours these rows of lanes are turned into rows of hours. Then each indoor and outdoor unit of each lane is measured,
sixteen hours in one name: what none asks for is passed over. What is measured: energy by supply, power and cycling by
outdoor unit, cold and hot hours by room, room temperatures in watched hours, sound energy by night, and how often each
indoor unit stands where in its output range. Sums run in single precision within a few chunks, and in double over the
year.

Where every lane is the same house the matrices have one lane; where each lane is a house of its own (draws of uncertain
inputs) they have 64, and heat comes as a sum of parts with a factor each. Rooms are padded to an even number, because
matrix rows are taken two at a time.

`year` runs `rooms`, then `units` (with `moisture` and `heard`) on the `tables` of the chunk.
"""
