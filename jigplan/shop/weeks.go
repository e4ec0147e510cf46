package shop

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"batchwright/jigplan"
)

// GiveOut keeps a week sheet as the one that hangs on the wall.
func GiveOut(tx *Tx, s jigplan.WeekSheet) error {
	data, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("keep the week sheet: %w", err)
	}
	_, err = tx.Exec("INSERT INTO weeks (at, first, days, sheet) VALUES (?, ?, ?, ?)", Time(tx.Now), s.From.Format(time.DateOnly), s.Days, data)
	return err
}

// GivenOut is the last week sheet that was given out; nil: none.
func GivenOut(tx *Tx) (*jigplan.WeekSheet, error) {
	var data []byte
	err := tx.QueryRow("SELECT sheet FROM weeks ORDER BY id DESC LIMIT 1").Scan(&data)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	var s jigplan.WeekSheet
	if err == nil {
		err = json.Unmarshal(data, &s)
	}
	if err != nil {
		return nil, fmt.Errorf("read the last week sheet: %w", err)
	}
	return &s, nil
}
