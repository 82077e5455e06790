#pragma once

#include "film/Delivery.h"
#include "film/Unknown.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
using film::Unknown;

/// A hit or cue as it stood in a parcel: what a person has in their hands.
struct SentRow
{
    std::string id;
    std::string name;      ///< of a hit its label, of a cue its number and title
    bool cue = false;      ///< else a hit
    std::size_t reel = 0;  ///< of the edition
    std::int64_t film = 0; ///< film frame of the reel; of a cue that of its in
    std::int64_t delivered = 0;
    std::optional<std::int64_t> end; ///< of a cue: delivered frame of its out
    std::string said;                ///< the rest in words: "gag, must, agreed"
    bool lost = false;               ///< it had no place; the frames count for nothing

    friend bool operator== (const SentRow&, const SentRow&) = default;
};

/// Hits and cues of a book as they stood at some time, and how the film was delivered then.
struct SentState
{
    std::string edition; ///< letter
    film::Delivery delivery;
    std::vector<SentRow> rows;

    friend bool operator== (const SentState&, const SentState&) = default;
};

/// A file of a parcel.
struct SentFile
{
    std::string name;
    std::string sha256; ///< hexadecimal

    friend bool operator== (const SentFile&, const SentFile&) = default;
};

/// What was sent to whom, so that the next one can say what changed.
struct Parcel
{
    std::string person; ///< id
    int number = 1;     ///< counted from 1 for each person
    std::string stamped;
    SentState sent;
    std::vector<SentFile> files;
    Unknown unknown;

    friend bool operator== (const Parcel&, const Parcel&) = default;
};
} // namespace shutterbeat::spotting
