package shop

import (
	"database/sql"
	"fmt"
	"time"
)

// TimeLog is one piece of work as it was timed.
type TimeLog struct {
	ID      int64 // its number in the shop file; 0: not kept yet
	At      time.Time
	Element string // the setting that times it: "Glue-up", "Stack end"
	Job     int64  // 0: none
	Stack   string
	Boards  int     // in the stack
	Count   float64 // how often it was done; 0: all of the job's
	Actual  float64 // minutes
	Planned float64 // minutes in the plan; 0: not known
	Base    float64 // the same before any calibration
	Dropped bool    // interrupted: kept, and not calibrated on
	Note    string
}

// AddTime keeps one time.
func AddTime(tx *Tx, l TimeLog) error {
	_, err := tx.Exec(`INSERT INTO times (at, element, job, stack, boards, count, actual, planned, base, dropped, note)
		VALUES (?, ?, NULLIF(?, 0), ?, ?, ?, ?, ?, ?, ?, ?)`,
		Time(tx.Now), l.Element, l.Job, l.Stack, l.Boards, l.Count, l.Actual, l.Planned, l.Base, l.Dropped, l.Note)
	return err
}

// TimeLogs lists the times logged, oldest first; of one job, or of all for 0.
func TimeLogs(tx *Tx, job int64) ([]TimeLog, error) {
	return listRows(tx, scanTime, `SELECT id, at, element, job, stack, boards, count, actual, planned, base, dropped, note FROM times
		WHERE ? = 0 OR job = ? ORDER BY id`, job, job)
}

// TimeLogOf is one log by its number.
func TimeLogOf(tx *Tx, id int64) (TimeLog, error) {
	all, err := TimeLogs(tx, 0)
	if err != nil {
		return TimeLog{}, err
	}
	for _, l := range all {
		if l.ID == id {
			return l, nil
		}
	}
	return TimeLog{}, fmt.Errorf("there is no log %d: log list shows the numbers", id)
}

// CorrectTime gives a log other minutes, another count, and says whether it
// calibrates.
func CorrectTime(tx *Tx, l TimeLog) error {
	_, err := tx.Exec("UPDATE times SET count = ?, actual = ?, planned = ?, base = ?, dropped = ?, note = ? WHERE id = ?",
		l.Count, l.Actual, l.Planned, l.Base, l.Dropped, l.Note, l.ID)
	return err
}

// RemoveTime takes a log away.
func RemoveTime(tx *Tx, id int64) error {
	_, err := tx.Exec("DELETE FROM times WHERE id = ?", id)
	return err
}

func scanTime(rows *sql.Rows) (l TimeLog, err error) {
	var at string
	var job sql.NullInt64
	if err := rows.Scan(&l.ID, &at, &l.Element, &job, &l.Stack, &l.Boards, &l.Count, &l.Actual, &l.Planned, &l.Base, &l.Dropped, &l.Note); err != nil {
		return l, err
	}
	l.Job = job.Int64
	l.At, err = ParseTime(at)
	return l, err
}

// Clock is work that is being timed.
type Clock struct {
	Element string
	Job     int64
	Stack   string
	Count   float64
	Started time.Time
	Who     string
}

// Clocks lists the clocks that run, oldest first.
func Clocks(tx *Tx) ([]Clock, error) {
	return listRows(tx, scanClock, "SELECT element, job, stack, count, started, who FROM clocks ORDER BY rowid")
}

func scanClock(rows *sql.Rows) (c Clock, err error) {
	var job sql.NullInt64
	var started string
	if err := rows.Scan(&c.Element, &job, &c.Stack, &c.Count, &started, &c.Who); err != nil {
		return c, err
	}
	c.Job = job.Int64
	c.Started, err = ParseTime(started)
	return c, err
}

// StartClock starts a clock.
func StartClock(tx *Tx, c Clock) error {
	_, err := tx.Exec("INSERT INTO clocks (element, job, stack, count, started, who) VALUES (?, NULLIF(?, 0), ?, ?, ?, ?)",
		c.Element, c.Job, c.Stack, c.Count, Time(tx.Now), c.Who)
	return err
}

// StopClock takes a clock away.
func StopClock(tx *Tx, c Clock) error {
	_, err := tx.Exec("DELETE FROM clocks WHERE rowid IN (SELECT rowid FROM clocks WHERE element = ? AND COALESCE(job, 0) = ? AND stack = ? AND started = ? LIMIT 1)",
		c.Element, c.Job, c.Stack, Time(c.Started))
	return err
}
