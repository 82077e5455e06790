#pragma once

#include "desk/Export.h"
#include "desk/PagePreview.h"

#include <optional>
#include <set>
#include <string>

namespace shutterbeat::window
{
class Bench;

/// What is to be made for others: which sheets, lists and files, on which paper, into which folder. Window thread only; the
/// making runs away from it.
class HandOverDesk
{
public:
    explicit HandOverDesk (Bench& owner);

    [[nodiscard]] bool wanted (const std::string& format) const { return chosen.count (format) > 0; }
    void toggle (const std::string& format);
    void chooseAll (bool all);
    [[nodiscard]] std::size_t count() const { return chosen.size(); }
    [[nodiscard]] bool letter() const { return onLetter; }
    void setLetter (bool on);
    /// How what is made is delivered: as the book is, unless something else was chosen for it alone.
    [[nodiscard]] film::Delivery delivery() const;
    [[nodiscard]] bool asTheBook() const { return ! other; }
    void setDelivery (const std::optional<film::Delivery>& wanted);
    [[nodiscard]] spotting::Asked asked() const;

    /// Beside the book unless another is named.
    [[nodiscard]] std::string folder() const;
    void setFolder (const std::string& path) { named = path; }
    void make();

    /// A sheet's pages as it would be made now.
    void look (const std::string& format);
    [[nodiscard]] const std::string& lookedAt() const { return looked; }
    [[nodiscard]] const desk::PagePreview* preview() const { return pages ? &*pages : nullptr; }
    [[nodiscard]] int page() const { return pageShown; }
    void turn (int pages);
    void closePreview();

private:
    [[nodiscard]] desk::ExportWish wish() const;

    Bench& bench;
    std::set<std::string> chosen;
    bool onLetter = false;
    std::optional<film::Delivery> other;
    std::string named, looked;
    std::optional<desk::PagePreview> pages;
    int pageShown = 0;
};
} // namespace shutterbeat::window
