package shop

import (
	"fmt"

	"batchwright/orders/settings"
)

// settingFaults lists what is wrong with the settings and tools of a shop file: a setting that
// cannot be read, two blades or rods in use, no profile of the jig as it is.
func settingFaults(tx *Tx) ([]string, error) {
	var faults []string
	if _, err := Settings(tx, settings.Default()); err != nil {
		faults = append(faults, err.Error())
	}
	for _, table := range []string{"blades", "rods"} {
		var n int
		if err := tx.QueryRow("SELECT count(*) FROM " + table + " WHERE in_use = 1").Scan(&n); err != nil {
			return nil, err
		}
		if n > 1 {
			faults = append(faults, fmt.Sprintf("%d %s are in use at once", n, table))
		}
	}
	return faults, nil
}
