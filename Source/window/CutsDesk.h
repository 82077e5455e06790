#pragma once

#include "desk/ScanFilm.h"
#include "film/Timings.h"
#include "scan/Shots.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// Corrections of the scan: the threshold with what it would give, cuts made and taken back, what a shot is, cards read.
/// Window thread only; looking through a film runs away from it.
class CutsDesk
{
public:
    explicit CutsDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Fetches what the scan measured of the reel on screen, when its ledger is open and another reel is shown.
    void refresh();
    /// What the threshold now set gives for that reel; none until it was fetched.
    [[nodiscard]] const scan::ScanResult* result() const { return found ? &*found : nullptr; }
    [[nodiscard]] double threshold() const { return thresholdNow; }
    /// The result follows at once; nothing is written.
    void setThreshold (double value);
    /// Scans the print again at this threshold: shots that a person has locked stay.
    void takeCuts();
    /// File frame of the reel that is on screen; none when it is not this reel.
    [[nodiscard]] std::optional<std::int64_t> fileFrameShown() const;
    void goToFileFrame (std::int64_t frame);

    // Corrections, each one step: of the shot on screen.
    void cutHere();
    void joinHere();
    void nextKind();
    void toggleLock();
    void readCards();
    /// What a card says, typed by a person.
    void setWording (const std::string& shot, const std::string& words);
    /// Whether a shot is remade in this edition, and why it comes from where it does; the ledger is shown again.
    void setSource (const std::string& shot, bool remade, const std::string& reason);
    /// The shot on screen, or null.
    [[nodiscard]] const film::Shot* shotHere() const;

private:
    Bench& bench;
    std::string path, print;
    std::size_t reel = 0;
    std::shared_ptr<const desk::MeasuredFilm> measured;
    std::shared_ptr<const scan::Groundwork> ground;
    std::optional<scan::ScanResult> found;
    double thresholdNow = scan::Options::defaultThreshold;
};
} // namespace shutterbeat::window
