"""The workbook: recipes marked for teaching, with exercises made from the kitchen's figures; answers apart."""
