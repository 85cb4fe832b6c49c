"""Invoices of an agreed price: what is due next, what stands on it, and what is still owed.

    stage      a part of the agreed price with its time: deposit, progress, final
    due        the invoice that comes next: a stage with the change orders agreed since
    rest       what is billed after the final invoice, when the agreed price changed again
    retainage  what a payer holds back of the final invoice until all is in order
    payable    what an invoice asks for: its amount less what is held back
    account    of a job: agreed, billed, held back, paid and the balance
    slip       the occupant's word that the work is done; it names no price

No bookkeeping: invoices and payments are kept so that everybody knows what is owed.
"""
