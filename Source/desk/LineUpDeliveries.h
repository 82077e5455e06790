#pragma once

#include "desk/LineUp.h"
#include "lineup/Deliveries.h"

namespace shutterbeat::desk
{
/// A way in which the film is delivered or shown.
struct DeliveryColumn
{
    std::string name; ///< "25 true", "live at 18"
    spotting::Asked asked;
    bool live = false; ///< film time itself, at one speed: a projector shows no delivered frames
};

/// Reads "24", "25", "25:from:24", "23.976", "29.97df:true", "live:18". Error: none of these.
Result<DeliveryColumn> parseDelivery (const std::string& text);

/// What is compared when nobody says: 24, 23.976, 25 true, 25 frame for frame, 29.97, and live at 16, 18, 20, 22, 24 and the book's
/// own speeds as they are.
std::vector<DeliveryColumn> usualDeliveries();

/// How one performance meets a must-hit in one delivery.
struct DeliveryCell
{
    std::optional<double> lateMs; ///< none: the hit is lost there
    double frames = 0;            ///< delivered frames; in a live showing film frames are not counted: 0
    HitVerdict verdict = HitVerdict::outside;
};

struct DeliveryGrid
{
    std::vector<DeliveryColumn> columns;
    std::vector<std::size_t> rows;                ///< indices into BookTimes::hits: the must-hits of the sound, in time order
    std::vector<bool> meant;                      ///< a row without a clear accent is taken to strike where the whole sound puts it
    std::vector<std::vector<DeliveryCell>> cells; ///< [row][column]
    std::vector<std::optional<lineup::Mending>> mending; ///< one a column
    std::vector<std::string> factors;                    ///< one a column: "24/25 (0.96000)", or the number alone
    std::vector<std::string> notes;
};

/// One performance against every delivery: the sound stays as it is, starts where its place says in each delivery, and its
/// must-hits are early or late there. Error: no must-hit, a delivery the book can't have.
Result<DeliveryGrid> deliveryGrid (const OpenBook& open, const spotting::BookTimes& times, const SoundLineUp& lined,
                                   const std::vector<DeliveryColumn>& columns);
} // namespace shutterbeat::desk
