package report

import "sync"

// drawings are done beside the rest of the work.
type drawings struct {
	wg     sync.WaitGroup
	errors []*error // in the order in which the drawings were asked for
}

func (d *drawings) Go(draw func() error) {
	err := new(error)
	d.errors = append(d.errors, err)
	d.wg.Go(func() { *err = draw() })
}

// Wait waits for all of them and returns the first error by their order.
func (d *drawings) Wait() error {
	d.wg.Wait()
	for _, err := range d.errors {
		if *err != nil {
			return *err
		}
	}
	return nil
}
