package main

import (
	"context"
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// yard is the demo's store as entered: everything has its code.
type yard struct {
	ledger     *inventory.Ledger
	people     []inventory.Person
	places     []inventory.Place
	feeders    []inventory.Feeder
	wires      []inventory.Wire
	jobs       []inventory.Job
	procedures map[string]inventory.Procedure // by number
	clocks     clocks
}

// enter reads the scenario and enters it through the use cases.
func enter(ctx context.Context, ledger *inventory.Ledger) (*yard, error) {
	y := &yard{ledger: ledger, procedures: map[string]inventory.Procedure{}}
	if err := y.enterPeopleAndPlaces(ctx); err != nil {
		return nil, err
	}
	wires, err := table("wires", readWire)
	if err != nil {
		return nil, err
	}
	if y.wires, err = all(ctx, wires, ledger.AddWire); err != nil {
		return nil, fmt.Errorf("wires: %w", err)
	}
	nickname := inventory.Nickname{Name: "shed wire", Process: fit.FCAWS, Person: y.withRole(inventory.Engineer)[0].Code}
	if _, err := ledger.AddNickname(ctx, nickname); err != nil {
		return nil, fmt.Errorf("nickname: %w", err)
	}
	return y, y.enterJobs(ctx)
}

func (y *yard) enterPeopleAndPlaces(ctx context.Context) error {
	people, err := table("people", readPerson)
	if err != nil {
		return err
	}
	if y.people, err = all(ctx, people, y.ledger.AddPerson); err != nil {
		return fmt.Errorf("people: %w", err)
	}
	places, err := table("places", readPlace)
	if err != nil {
		return err
	}
	if y.places, err = all(ctx, places, y.ledger.AddPlace); err != nil {
		return fmt.Errorf("places: %w", err)
	}
	feeders, err := table("feeders", readFeeder)
	if err != nil {
		return err
	}
	if y.feeders, err = all(ctx, feeders, y.ledger.AddFeeder); err != nil {
		return fmt.Errorf("feeders: %w", err)
	}
	return nil
}

func (y *yard) enterJobs(ctx context.Context) error {
	procedures, err := table("procedures", readProcedure)
	if err != nil {
		return err
	}
	if procedures, err = all(ctx, procedures, y.ledger.AddProcedure); err != nil {
		return fmt.Errorf("procedures: %w", err)
	}
	for _, p := range procedures {
		y.procedures[p.Number] = p
	}
	jobs, err := table("jobs", readJob)
	if err != nil {
		return err
	}
	for _, j := range jobs {
		for _, number := range j.procedures {
			procedure, ok := y.procedures[number]
			if !ok {
				return fmt.Errorf("job %s: there is no procedure %s", j.Number, number)
			}
			j.Procedures = append(j.Procedures, procedure.ID)
		}
		job, err := y.ledger.AddJob(ctx, j.Job)
		if err != nil {
			return fmt.Errorf("job %s: %w", j.Number, err)
		}
		y.jobs = append(y.jobs, job)
	}
	return nil
}

// all enters each of the things.
func all[T any](ctx context.Context, things []T, add func(context.Context, T) (T, error)) ([]T, error) {
	out := make([]T, len(things))
	for i, thing := range things {
		var err error
		if out[i], err = add(ctx, thing); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// withRole returns the people in the role.
func (y *yard) withRole(role inventory.Role) (out []inventory.Person) {
	for _, p := range y.people {
		if p.Role == role {
			out = append(out, p)
		}
	}
	return out
}
