#pragma once

#include "desk/Parcel.h"

#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// Parcels for the people of the book: to whom, where, with or without the movie. Window thread only; packing runs away from it.
class ParcelDesk
{
public:
    explicit ParcelDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Ids of those it can be for: the book's people.
    [[nodiscard]] std::vector<std::string> people() const;
    [[nodiscard]] std::string person() const;
    void setPerson (const std::string& id);
    [[nodiscard]] bool movie() const { return withMovie; }
    [[nodiscard]] bool zip() const { return asZip; }
    [[nodiscard]] bool pop() const { return withPop; }
    void setMovie (bool on);
    void setZip (bool on);
    void setPop (bool on);
    /// Beside the book, named for the person and numbered, unless another is named.
    [[nodiscard]] std::string path() const;
    void setPath (const std::string& typed) { named = typed; }

    /// What was sent, oldest first; empty with `trouble` when the book's list is damaged.
    [[nodiscard]] std::vector<spotting::Parcel> sent() const;
    /// What changed since the person's last one; "nothing was sent yet" as one line.
    [[nodiscard]] std::vector<std::string> news() const;
    void make();

private:
    void changed() const;

    Bench& bench;
    std::string who, named;
    bool withMovie = true, asZip = true, withPop = true;
};
} // namespace shutterbeat::window
