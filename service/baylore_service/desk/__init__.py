"""The desk: every act of the shop, each one transaction; knows neither web nor SQL."""
