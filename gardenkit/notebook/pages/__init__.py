"""The pages of the workbook, a module a step."""
