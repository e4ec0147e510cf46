package jigplan

import (
	"time"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// Week is the work of open orders on the clock, and how much of it is printed.
type Week struct {
	From     time.Time // no work is before it
	Days     int       // that are printed, that of From the first
	Settings *settings.Shop
	Jobs     []WeekJob
	Schedule Schedule // beyond the printed days, as far as the work goes
	Findings []orders.Finding
	Before   *WeekSheet // what its changes are counted from; nil: nothing
	Done     []string   // ids of tasks that were done already
	Help     []Help     // what would make it less late, the most first
}

// WeekJob is an open order with the tasks that are on the clock.
type WeekJob struct {
	Job
	Code string // stands for it in large letters: "A", "12"
	Plan *Plan
	Left []Task // that no week has room for

	Arrives  time.Time // the day the wood it buys is there; zero: it waits for none
	MillFrom time.Time // when that wood has rested
}

// WeekSheet is a week as it was given out.
type WeekSheet struct {
	Given time.Time
	From  time.Time
	Days  int
	Jobs  []SheetJob
	Tasks []SheetTask
	Done  []string // ids of tasks that were done by then
}

// SheetJob is a job as a sheet promised it.
type SheetJob struct {
	ID, Name string
	Due      time.Time // zero: no date
	Done     time.Time // zero: no room
}

// SheetTask is a task as a sheet had it.
type SheetTask struct {
	ID, Job, What string
	Start, End    time.Time
}

// Help is a change of the shop that makes a week less late, as it was planned.
type Help struct {
	What string // "12 clamps", "one evening on Thu Mar 11 (18:00-20:00)"
	Late int    // days late (weighted) with it
}
