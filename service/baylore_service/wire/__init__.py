"""What travels: structs of requests and answers, apart from tables, and the ways to and from values."""
