#pragma once

#include "spotting/Edit.h"
#include "spotting/Rights.h"

namespace shutterbeat::spotting
{
/// Adds a work for a person; its id is given here. ISWC and IPI numbers are put as they are printed. Error: no title, a number
/// whose check digit fails, a role there is not, a share outside 0 to 100. Shares that do not sum yet are kept: rightsOf names
/// them.
Result<Edited> addWork (const Book& book, const std::string& person, Work work);
/// Replaces the work of that id. Error: no such work, or what addWork refuses.
Result<Book> setWork (const Book& book, Work work);
/// Takes works out of the book, and out of the cues that used them. Error: an id the book does not have; then nothing is removed.
Result<Book> removeWorks (const Book& book, const std::vector<std::string>& ids);

/// The works that a cue uses, in place of what it used before. Error: no such cue or work, an end before its beginning.
Result<Book> setUses (const Book& book, const std::string& cue, std::vector<WorkUse> uses);

/// A work by its id or, when no other has it, its title. Error: none, or several of that title.
Result<Work> workNamed (const Book& book, const std::string& idOrTitle);

Book setProduction (const Book& book, const Production& production);
/// The table of usage codes. Error: a code that is empty or there twice.
Result<Book> setUsages (const Book& book, std::vector<UsageCode> codes);
} // namespace shutterbeat::spotting
