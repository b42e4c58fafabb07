"""What leaves the house: the client copy, the to-scale sheet, tables and the care calendar."""
