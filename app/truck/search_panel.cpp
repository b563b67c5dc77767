// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/search_panel.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/toggle_row.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QVBoxLayout>

#include <array>

namespace keyround {

namespace {

// In the order of the toggles.
constexpr std::array<bool SearchRecord::*, 4> tries{&SearchRecord::measured, &SearchRecord::probed,
                                                    &SearchRecord::detector,
                                                    &SearchRecord::askedOffice};

} // namespace

SearchPanel::SearchPanel(QWidget *parent)
    : QWidget(parent), m_title(truckLabel(this, TextSize::Title, true)), m_help(truckLabel(this)),
      m_tries(new ToggleRow(this)),
      m_found(new BigButton(BigButton::Kind::Primary, tr("Found it"), this)),
      m_paved(new BigButton(BigButton::Kind::Plain, tr("It is under the pavement"), this)),
      m_notFound(new BigButton(BigButton::Kind::Plain, tr("Not found: give up"), this)),
      m_later(new BigButton(BigButton::Kind::Plain, tr("Back to what is known of it"), this))
{
    m_title->setObjectName(QStringLiteral("search-title"));
    m_help->setObjectName(QStringLiteral("search-help"));
    m_tries->add(tr("Measured from the ties"), QStringLiteral("search-measured"), Qt::Key_1);
    m_tries->add(tr("Probed"), QStringLiteral("search-probed"), Qt::Key_2);
    m_tries->add(tr("Went over it with the detector"), QStringLiteral("search-detector"),
                 Qt::Key_3);
    m_tries->add(tr("Asked the office"), QStringLiteral("search-office"), Qt::Key_4);
    buildOutcomes();
    connect(m_tries, &ToggleRow::pressed, this, [this](int place, bool down) {
        m_search.*tries.at(static_cast<std::size_t>(place)) = down;
        Q_EMIT tried(m_search);
    });
}

void SearchPanel::buildOutcomes()
{
    const int gap = TruckScale::of(this).gap;
    auto *asked = truckLabel(this, TextSize::Normal, true);
    asked->setText(tr("What was tried so far?"));
    auto *came = truckLabel(this, TextSize::Normal, true);
    came->setText(tr("What came of it?"));
    auto *outcomes = new QHBoxLayout;
    outcomes->setSpacing(gap);
    const auto add = [&](BigButton *button, const char *name, const QString &key) {
        button->setObjectName(QLatin1String(name));
        button->setHint(key);
        outcomes->addWidget(button, 1);
    };
    add(m_found, "search-found", tr("key 5"));
    add(m_paved, "search-paved", tr("key 6"));
    add(m_notFound, "search-not-found", tr("key 7"));
    add(m_later, "search-close", tr("key 8"));
    connect(m_found, &QAbstractButton::clicked, this,
            [this] { Q_EMIT ended(SearchOutcome::Found); });
    connect(m_paved, &QAbstractButton::clicked, this,
            [this] { Q_EMIT ended(SearchOutcome::PavedOver); });
    connect(m_notFound, &QAbstractButton::clicked, this,
            [this] { Q_EMIT ended(SearchOutcome::NotFound); });
    connect(m_later, &QAbstractButton::clicked, this,
            [this] { Q_EMIT ended(SearchOutcome::UnderWay); });
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(m_help);
    layout->addWidget(asked);
    layout->addWidget(m_tries);
    layout->addWidget(came);
    layout->addLayout(outcomes);
    layout->addStretch();
}

void SearchPanel::show(const Valve &valve, const SearchRecord &search)
{
    m_search = search;
    m_title->setText(tr("Looking for valve %1").arg(valve.number));
    // Common practice, no source.
    m_help->setText(valve.ties.isEmpty()
                        ? tr("No ties on record. Look along the line of its main, for a patch in "
                             "the paving, for the lids of its neighbours; then probe, then the "
                             "detector, then ask the office for a drawing.")
                        : tr("Ties: %1. Measure from two of them and mark where they cross; probe "
                             "round the mark, go over it with the detector, then ask the office.")
                              .arg(valve.ties));
    for (std::size_t i = 0; i < tries.size(); ++i) {
        m_tries->setDown(static_cast<int>(i), search.*tries[i]);
    }
}

QWidget *SearchPanel::firstField() const
{
    return m_tries->first();
}

bool SearchPanel::takeKey(QKeyEvent *event)
{
    if (m_tries->takeKey(event)) {
        return true;
    }
    const std::array<BigButton *, 4> buttons{m_found, m_paved, m_notFound, m_later};
    const int index = event->key() - Qt::Key_5;
    if (event->isAutoRepeat() || index < 0 || index >= static_cast<int>(buttons.size())) {
        return false;
    }
    buttons[static_cast<std::size_t>(index)]->click();
    return true;
}

} // namespace keyround
