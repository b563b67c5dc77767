// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/position_panel.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/position/position_feed.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QSerialPortInfo>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr int fastestBaud = 921600;
constexpr int slowestBaud = 1200;
constexpr int fastestReplay = 100;

std::optional<int> wholeTyped(const QString &text, int least, int most)
{
    bool isNumber = false;
    const int number = text.trimmed().toInt(&isNumber);
    return isNumber && number >= least && number <= most ? std::optional(number) : std::nullopt;
}

QFormLayout *formOf(QWidget *page)
{
    auto *form = new QFormLayout(page);
    form->setContentsMargins(0, 0, 0, 0);
    form->setVerticalSpacing(8);
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    return form;
}

} // namespace

PositionPanel::PositionPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_source(new CalmComboBox(this)),
      m_pages(new QStackedWidget(this)), m_port(new CalmComboBox(this)),
      m_baud(new CalmComboBox(this)), m_log(new QLineEdit(this)), m_speed(new QLineEdit(this)),
      m_refusal(plainLabel({}, QStringLiteral("refusal"), this)),
      m_use(new QPushButton(tr("Use this"), this)),
      m_state(plainLabel({}, QStringLiteral("heading"), this)),
      m_counts(plainCaption({}, QStringLiteral("quiet"), this)), m_heard(new QListWidget(this))
{
    setWindowTitle(tr("Position"));
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(16, 16, 16, 16);
    row->setSpacing(20);
    row->addWidget(buildChoice(), 2);
    row->addWidget(buildHeard(), 3);
    const PositionFeed &feed = session.positions();
    connect(&feed, &PositionFeed::changed, this, &PositionPanel::refreshState);
    connect(&feed, &PositionFeed::lineHeard, this, &PositionPanel::refreshHeard);
    listPorts();
    showHabits(rememberedPositionHabits());
    refreshState();
    refreshHeard();
}

PositionPanel *PositionPanel::openBeside(QWidget *owner, Session &session)
{
    QWidget *window = owner->window();
    auto *panel = window->findChild<PositionPanel *>();
    if (panel == nullptr) {
        panel = new PositionPanel(session, window);
        panel->setWindowFlag(Qt::Window);
        panel->setAttribute(Qt::WA_DeleteOnClose); // closed, it would follow every sentence all day
        panel->resize(1040, 520);
    }
    panel->show();
    panel->raise();
    panel->activateWindow();
    return panel;
}

QWidget *PositionPanel::buildChoice()
{
    auto *side = new QWidget(this);
    m_source->setObjectName(QStringLiteral("positionSource"));
    m_source->setAccessibleName(tr("Where the position comes from"));
    m_source->addItems({tr("None"), tr("A receiver on a serial port (NMEA 0183)"),
                        tr("A recorded NMEA log"), tr("This computer's position service")});
    m_pages->addWidget(plainLabel(tr("No position is shown, and stops do not say how far they are. "
                                     "Everything else works without one."),
                                  QStringLiteral("quiet"), this));
    m_pages->addWidget(buildReceiverPage());
    m_pages->addWidget(buildLogPage());
    m_pages->addWidget(plainLabel(tr("What this computer's own service knows. It may be no better "
                                     "than the town; it says how far it can be off."),
                                  QStringLiteral("quiet"), this));
    connect(m_source, &QComboBox::currentIndexChanged, m_pages, &QStackedWidget::setCurrentIndex);
    m_use->setObjectName(QStringLiteral("usePosition"));
    m_use->setProperty("role", QStringLiteral("primary"));
    connect(m_use, &QPushButton::clicked, this, &PositionPanel::use);
    m_refusal->setObjectName(QStringLiteral("positionRefusal"));
    m_refusal->hide();

    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(10);
    column->addWidget(plainCaption(tr("Where the position comes from"), QStringLiteral("heading")));
    column->addWidget(m_source);
    column->addWidget(m_pages);
    column->addWidget(m_refusal);
    column->addWidget(m_use, 0, Qt::AlignLeft);
    column->addWidget(
        plainLabel(tr("Kept on this laptop, not in the project."), QStringLiteral("quiet"), this));
    column->addStretch(1);
    return side;
}

QWidget *PositionPanel::buildReceiverPage()
{
    auto *page = new QWidget(this);
    QFormLayout *form = formOf(page);
    m_port->setObjectName(QStringLiteral("positionPort"));
    m_port->setAccessibleName(tr("Port"));
    m_port->setEditable(true);
    m_port->setInsertPolicy(QComboBox::NoInsert);
    m_baud->setObjectName(QStringLiteral("positionBaud"));
    m_baud->setAccessibleName(tr("Baud"));
    m_baud->setEditable(true);
    m_baud->setInsertPolicy(QComboBox::NoInsert);
    for (const int baud : receiverBauds()) {
        m_baud->addItem(QString::number(baud));
    }
    auto *again = new QPushButton(tr("Look again"), page);
    again->setProperty("role", QStringLiteral("small"));
    connect(again, &QPushButton::clicked, this, &PositionPanel::listPorts);
    auto *ports = new QHBoxLayout;
    ports->addWidget(m_port, 1);
    ports->addWidget(again);
    form->addRow(plainCaption(tr("Port")), ports);
    form->addRow(plainCaption(tr("Baud")), m_baud);
    form->addRow(plainLabel(tr("4800 is NMEA 0183's own; many receivers speak 9600 or 115200. With "
                               "the wrong one the lines at the right are refused."),
                            QStringLiteral("quiet")));
    return page;
}

QWidget *PositionPanel::buildLogPage()
{
    auto *page = new QWidget(this);
    QFormLayout *form = formOf(page);
    m_log->setObjectName(QStringLiteral("positionLog"));
    m_log->setAccessibleName(tr("Log"));
    auto *choose = new QPushButton(tr("Choose..."), page);
    choose->setObjectName(QStringLiteral("chooseLog"));
    connect(choose, &QPushButton::clicked, this, [this] {
        const QString path = chooseFileToOpen(this, tr("A recorded NMEA log"),
                                              tr("NMEA logs (*.nmea *.txt *.log);;All files (*)"));
        if (!path.isEmpty()) {
            m_log->setText(path);
        }
    });
    auto *files = new QHBoxLayout;
    files->addWidget(m_log, 1);
    files->addWidget(choose);
    m_speed->setObjectName(QStringLiteral("positionSpeed"));
    m_speed->setAccessibleName(tr("Times faster"));
    m_speed->setMaximumWidth(80);
    form->addRow(plainCaption(tr("Log")), files);
    form->addRow(plainCaption(tr("Times faster")), m_speed);
    form->addRow(plainLabel(tr("Played back at the pace at which it was recorded, for training and "
                               "for trying out. It is not where the truck is now: the line of the "
                               "position says so."),
                            QStringLiteral("quiet")));
    return page;
}

QWidget *PositionPanel::buildHeard()
{
    auto *side = new QWidget(this);
    m_state->setObjectName(QStringLiteral("positionState"));
    m_counts->setObjectName(QStringLiteral("positionCounts"));
    m_heard->setObjectName(QStringLiteral("positionHeard"));
    m_heard->setAccessibleName(tr("Sentences that arrived"));
    m_heard->setSelectionMode(QAbstractItemView::NoSelection);
    m_heard->setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(8);
    column->addWidget(m_state);
    column->addWidget(m_counts);
    column->addWidget(m_heard, 1);
    return side;
}

void PositionPanel::listPorts()
{
    const QString kept = m_port->currentText();
    m_port->clear();
    for (const QSerialPortInfo &port : QSerialPortInfo::availablePorts()) {
        m_port->addItem(port.portName());
        m_port->setItemData(
            m_port->count() - 1,
            plainToolTip(port.description().isEmpty() ? port.systemLocation() : port.description()),
            Qt::ToolTipRole);
    }
    if (!kept.isEmpty()) {
        m_port->setEditText(kept);
    }
}

void PositionPanel::showHabits(const PositionHabits &habits)
{
    m_source->setCurrentIndex(int(habits.source));
    m_pages->setCurrentIndex(int(habits.source));
    if (!habits.port.isEmpty()) {
        m_port->setEditText(habits.port);
    }
    m_baud->setEditText(QString::number(habits.baud));
    m_log->setText(habits.log);
    m_speed->setText(QString::number(habits.logSpeed));
}

void PositionPanel::use()
{
    PositionHabits habits = rememberedPositionHabits();
    for (QLineEdit *line : {m_port->lineEdit(), m_baud->lineEdit(), m_log, m_speed}) {
        refuse(line, {});
    }
    habits.source = PositionSource(m_source->currentIndex());
    if (habits.source == PositionSource::Receiver) {
        habits.port = m_port->currentText().trimmed();
        if (habits.port.isEmpty()) {
            refuse(m_port->lineEdit(), tr("Choose the port that the receiver is plugged into. None "
                                          "in the list: plug it in, then Look again."));
            return;
        }
        const auto baud = wholeTyped(m_baud->currentText(), slowestBaud, fastestBaud);
        if (!baud) {
            refuse(m_baud->lineEdit(), tr("A baud is a whole number from %1 to %2, such as 4800.")
                                           .arg(slowestBaud)
                                           .arg(fastestBaud));
            return;
        }
        habits.baud = *baud;
    } else if (habits.source == PositionSource::Log) {
        habits.log = m_log->text().trimmed();
        if (habits.log.isEmpty()) {
            refuse(m_log, tr("Choose the log to play back."));
            return;
        }
        const auto speed = wholeTyped(m_speed->text(), 1, fastestReplay);
        if (!speed) {
            refuse(m_speed, tr("Type a whole number from 1 to %1.").arg(fastestReplay));
            return;
        }
        habits.logSpeed = *speed;
    }
    rememberPositionHabits(habits);
    m_session.positions().start(habits);
    refreshHeard();
}

void PositionPanel::refuse(QLineEdit *line, const QString &why)
{
    restyle(line, "refused", !why.isEmpty());
    m_refusal->setText(why);
    m_refusal->setVisible(!why.isEmpty());
    if (!why.isEmpty()) {
        line->setFocus();
    }
}

void PositionPanel::refreshState()
{
    const PositionFeed &feed = m_session.positions();
    m_state->setText(feed.words(m_session.isOpen() ? m_session.units() : UnitSystem::Us));
    QString counts =
        tr("%1 sound sentences, %2 lines refused").arg(feed.soundCount()).arg(feed.refusedCount());
    if (const QString trouble = feed.trouble();
        !trouble.isEmpty() && !m_state->text().contains(trouble)) {
        counts = tr("%1. %2").arg(counts, trouble);
    }
    m_counts->setText(counts);
    m_counts->setWordWrap(true);
}

void PositionPanel::refreshHeard()
{
    m_heard->clear();
    for (const HeardLine &line : m_session.positions().heard()) {
        // Unreadable bytes are shown as dots: some of them would move the text about.
        QString shown = line.text;
        for (QChar &c : shown) {
            c = c.isPrint() ? c : QChar(u'·');
        }
        auto *item =
            new QListWidgetItem(line.isRefused ? tr("REFUSED, %1: %2").arg(line.outcome, shown)
                                               : tr("%1: %2").arg(line.outcome, shown));
        if (line.isRefused) {
            item->setForeground(look::danger);
        }
        m_heard->addItem(item);
    }
    if (m_heard->count() == 0) {
        m_heard->addItem(tr("Nothing has arrived so far. Lines appear here as they come."));
    }
    m_heard->scrollToBottom();
    refreshState();
}

} // namespace keyround
