/// @file profiles/choices/choices_file.h Choices out of settings files.
///
/// barter.cfg may say most of them, equipment.cfg, which barter itself keeps,
/// what was learnt of the equipment, learner.cfg what is of one person. Each
/// is laid over what was said before.

#ifndef PROFILES_CHOICES_CHOICES_FILE_H
#define PROFILES_CHOICES_CHOICES_FILE_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"
#include "profiles/choices/choices.h"

/// The file that barter itself keeps: the player's own, over barter.cfg.
#define CHOICES_EQUIPMENT_FILE "equipment.cfg"

/// Write the rows of what a place may say; return how many there are.
unsigned
choices_file_rows(ChoicePlace place, const Row* rows[N_CHOICES]);

/// Read the choices that a place may say from settings that are open and say
/// nothing else; what they do not say stays as it is. Faults are noted.
void
choices_file_read(Choices* choices, ChoicePlace place, Settings* settings);

/// As choices_file_read(), from settings that say other things, too.
void
choices_file_read_part(Choices* choices, ChoicePlace place, Settings* settings);

/**
   Load barter.cfg and equipment.cfg over the plain choices, each opened once;
   neither need be there.

   @param[out] choices Written, whatever comes of it.
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
choices_load(Choices* choices, Faults* faults);

#endif // PROFILES_CHOICES_CHOICES_FILE_H
