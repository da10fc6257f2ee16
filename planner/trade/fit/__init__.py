"""The fit of a tire among what stands around it: motion, section, swept clearance, and the limits that follow."""
