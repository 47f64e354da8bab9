"""From a customer's message to an order that is priced, planned, answered and booked."""
