#pragma once

#include "film/Shot.h"
#include "sheets/Page.h"
#include "sheets/Picture.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::sheets
{
/// A shot on a contact sheet.
struct ContactShot
{
    film::ShotKind kind = film::ShotKind::shot;
    std::int64_t first = 0;  ///< its first frame, in the frames that the sheet counts
    std::int64_t frames = 0; ///< how many
    bool doubtful = false;   ///< the cut at its head is hardly stronger than the threshold: worth a look
};

/// A film as a contact sheet shows it.
struct ContactFilm
{
    std::string title;
    std::string figures; ///< one line: length, rate, size, number of shots
    std::string cadence; ///< another: what is known of its repeats
    std::vector<ContactShot> shots;
    std::string stamped; ///< date; empty: the file carries none
};

/// The picture of the shot with that index, or none. Asked once a shot, in order.
using ContactPicture = std::function<std::optional<SheetPicture> (std::size_t shot)>;

/// A contact sheet: bytes of a file, and sentences for the user.
struct ContactPage
{
    std::string bytes;
    std::vector<std::string> notes;
};

/// The whole film as pages for print (PDF): a picture a shot with its number, kind, first frame and length. `aspect` is the
/// pictures' width over their height. Error: as pdfOf.
Result<ContactPage> contactPdf (const ContactFilm& film, double aspect, const ContactPicture& pictureOf, Paper paper = Paper::a4);

/// The same as one tall picture (PNG). Error: more shots than a picture can hold (some two thousand); Cairo could not write.
Result<ContactPage> contactPng (const ContactFilm& film, double aspect, const ContactPicture& pictureOf);
} // namespace shutterbeat::sheets
