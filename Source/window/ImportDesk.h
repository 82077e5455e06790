#pragma once

#include "desk/Import.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// A list somebody sent: what it would change is shown first, then taken as one step. Window thread only; reading runs away from
/// it.
class ImportDesk
{
public:
    explicit ImportDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Index into desk::importFormats() that the file's ending speaks of; none: it speaks of nothing that can be read.
    static std::optional<std::size_t> formatOf (const std::string& path);
    /// Shows the panel with this path in it, and at once what the list would change where its kind is known.
    void offer (const std::string& path);

    [[nodiscard]] const std::string& path() const { return file; }
    [[nodiscard]] std::size_t format() const { return kind; }
    void setFormat (std::size_t which);
    /// A path as it is being typed; its ending may say what it is.
    void type (const std::string& path);
    /// Another number whenever there is something else to show.
    [[nodiscard]] int round() const { return shown; }
    /// Works out what the file would change.
    void look (const std::string& path);
    [[nodiscard]] const desk::ImportPlan* plan() const { return planned ? &*planned : nullptr; }
    /// One sentence over what follows; then a line for each change, each line left out, each conflict, each note.
    [[nodiscard]] std::string summary() const;
    [[nodiscard]] std::vector<std::string> lines() const;
    void take();

private:
    Bench& bench;
    std::string file;
    std::size_t kind = 0;
    int shown = 0;
    std::optional<desk::ImportPlan> planned;
    std::optional<spotting::Book> plannedFor;
};
} // namespace shutterbeat::window
