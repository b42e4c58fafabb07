"""The workbook in Jupyter: session, controls, live plans, pages."""
